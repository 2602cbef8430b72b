/**
 * What is usual when a broken tap is milled out: common practice, no source. The tap is of hardened high-speed steel (about
 * 63 to 66 HRC), the cutter a coated end mill of micrograin carbide with a corner radius that runs true within 0.01 mm.
 * Lengths mm.
 */
import { cuttingSpeedOf } from '../reference/threadMeasures.ts';
import type { HelixCutter } from './helixCutter.ts';
import type { BlockPlan } from './plan.ts';
import { short } from './readValues.ts';
import type { Values } from './values.ts';

/** m/min in hardened high-speed steel. */
export const CUTTING_SPEEDS = [30, 60] as const;
/** mm a tooth; a thin cutter keeps to the lower end. */
const LEAST_CHIP = 0.003;
const MOST_CHIP = 0.01;
export const chipLoadsFor = (diameter: number): readonly [number, number] => [
  LEAST_CHIP,
  Math.min(MOST_CHIP, LEAST_CHIP + diameter / 1000),
];
/** Part of the cleared diameter that the cutter should have. */
const LEAST_SHARE = 0.55;
const MOST_SHARE = 0.8;
/** Lead a turn: a part of the cutter, and what is usual from this diameter on. */
const LEAD_SHARE = 0.01;
const MOST_LEAD = 0.05;
const LEAST_LEAD = 0.02;
const FROM_DIAMETER = 3;
const FEWEST_TEETH = 4;

/** The lead asked for, with a word where it is more than usual; else the usual one. */
export const usualLead = (values: Values, plan: BlockPlan, tool: number): number => {
  const lead = values.optionalNumber('lead');
  if (lead === undefined) return Math.max(0.003, Math.min(tool * LEAD_SHARE, MOST_LEAD));
  const most = tool < FROM_DIAMETER ? Math.max(LEAD_SHARE * tool, LEAST_LEAD) : MOST_LEAD;
  if (lead > most * (1 + 1e-9)) {
    const places = plan.inch ? 4 : 3;
    plan.word(
      'lead',
      `${plan.say(lead, 'mm', places)} a turn is much in a hardened tap; ${plan.say(most, 'mm', places)} is the most that is usual with a cutter of ${plan.say(tool)}. Take less, or expect the cutter to break.`,
    );
  }
  return lead;
};

/** The cutter against what is usual; problems where it cannot do this work. */
export const judgeCutter = (values: Values, plan: BlockPlan, cutter: HelixCutter, cleared: number): void => {
  const { diameter, row, knownTeeth } = cutter;
  const isCalled = values.has('tool-number');
  const kind = row?.kind ?? (isCalled ? undefined : plan.context.tool?.kind);
  if (kind === 'ball-mill') {
    plan.problem(
      'tool',
      'The tool is a ball nose, whose tip does not turn fast enough to cut a hardened tap. Take an end mill with a corner radius.',
    );
  }
  if (row?.cuttingMaterial === 'hss') {
    plan.problem('tool', 'The cutter is of high-speed steel, no harder than the tap. Take one of carbide.');
  }
  if (knownTeeth !== undefined && knownTeeth < FEWEST_TEETH) {
    const teeth = knownTeeth === 1 ? '1 tooth' : `${knownTeeth} teeth`;
    plan.word('flutes', `The cutter has ${teeth}. Four or more run quieter in a hardened tap.`);
  }
  // A tenth of a per cent is lost in rounding the path.
  const share = diameter / cleared;
  if (share >= LEAST_SHARE - 5e-4 && share <= MOST_SHARE + 5e-4) return;
  plan.word(
    'tool',
    `The cutter of ${plan.say(diameter)} is ${short(share * 100, 1)} % of the cleared diameter of ${plan.say(cleared)}; 55 to 80 % is usual. ${share > MOST_SHARE ? 'A thinner one leaves more room for dust and air.' : 'A thicker one is stiffer.'}`,
  );
};

/** Cutting speed and feed a tooth against what is usual; `wallFeed` in mm/min. */
export const judgeSpeeds = (plan: BlockPlan, cutter: HelixCutter, speed: number, wallFeed: number): void => {
  if (speed <= 0) return;
  const cuttingSpeed = cuttingSpeedOf(cutter.diameter, speed);
  const [least, most] = CUTTING_SPEEDS;
  // Half a turn a minute is lost in rounding.
  if (cuttingSpeed < least * 0.995 || cuttingSpeed > most * 1.005) {
    plan.word(
      'speed',
      `${plan.say(cuttingSpeed, 'm/min')} in a hardened tap is ${cuttingSpeed > most ? 'fast' : 'slow'}; ${plan.say(least, 'm/min')} to ${plan.say(most, 'm/min')} is usual. Hold it against the data of the cutter’s maker.`,
    );
  }
  const chip = wallFeed / (speed * cutter.teeth);
  if (chip < LEAST_CHIP * 0.9 || chip > MOST_CHIP * 1.01) {
    plan.word(
      'feed',
      `${plan.say(chip, 'mm/tooth')} in a hardened tap is ${chip > MOST_CHIP ? 'much' : 'little'}; ${plan.say(LEAST_CHIP, 'mm/tooth')} to ${plan.say(MOST_CHIP, 'mm/tooth')} is usual. Hold it against the data of the cutter’s maker.`,
    );
  }
};

/** Remarks at the block's head. `diameter` of the thread; the web is about half of it. */
export const cautionsOf = (plan: BlockPlan, diameter: number): string[] => [
  'PICK UP THE HOLE CENTRE AGAIN. PROVE IN THE AIR FIRST.',
  'HARDENED HIGH-SPEED STEEL ONLY, NEVER CARBIDE.',
  'GUARD CLOSED. PROTECT EYES AND BREATH: HARD FRAGMENTS, DUST,',
  'AND THE CUTTER MAY SHATTER. CLEAN THE MACHINE AFTERWARDS.',
  'AIR BLAST ALL THE TIME, NO FLOOD. RUN-OUT BELOW 0.01 MM.',
  `WITH THE WEB OF ABOUT ${plan.say(diameter / 2, 'mm', plan.inch ? 2 : 1).toUpperCase()} GONE THE REST MAY FALL OUT.`,
  'THEN CHASE THE THREAD BY HAND.',
];
