import { Mode } from '../../machine/modes.ts';
import type { ProgramFacts } from '../facts.ts';
import { defineRule } from '../support/gradedRule.ts';
import { LineReporter } from '../support/lineWords.ts';
import { asLength } from '../support/programLengths.ts';
import { type Opening, offsetUnder } from '../support/shafts.ts';
import { stockShape } from '../support/stockShape.ts';
import { holderOverrun } from '../support/tapOverrun.ts';
import { deepestOpening } from '../support/tappedHole.ts';
import { threadName, unitOfPass } from '../support/tapWords.ts';
import { type TapStroke, threadWork } from '../support/threadWork.ts';
import { toolName } from '../support/toolShape.ts';

/** Closer than this a tap stands on the bottom and does not press, mm. */
const ALLOWED = 0.01;
const THROUGH = /(?<![A-Z])(?:THRU|THROUGH|THRO|DURCH\w*|DEBOUCHANT|PASSANTE|PASANTE)(?![A-Z])/i;
const BLIND = /(?<![A-Z])(?:BLIND|SACKLOCH\w*|BORGNE|CIECO|CIEGO)(?![A-Z])/i;

/** Short: the list of problems shows one line. */
const WHERE = 'Tapped to Z{tip}{overrun}, but {drill} is full size only down to Z{full}';

/** A tap that goes deeper than the hole is wide. */
export const tapDeeperThanHole = defineRule({
  code: 'tap-deeper-than-hole',
  severity: 'error',
  severities: { perhaps: 'warning', past: 'hint' },
  reason: 'A tap that meets the bottom of its hole breaks in it.',
  messages: {
    strikes: `${WHERE}. Tap to Z{most} at most, or drill {by} {lengthUnit} deeper.`,
    perhaps: `${WHERE}: in a blind hole it breaks. Tap to Z{most} at most, drill {by} {lengthUnit} deeper, or write THROUGH in the remark.`,
    past: 'Tapped to Z{tip}{overrun}, past the tip of {drill} at Z{end}: right in a through hole only. Else tap to Z{most} at most; THROUGH in the remark says that it goes through.',
  },
  program(facts, report) {
    const reporter = new LineReporter(facts, report);
    for (const stroke of threadWork(facts).strokes) {
      const opening = stroke.isPlaceKnown ? deepestOpening(stroke) : undefined;
      if (opening === undefined) continue;
      const overrun = holderOverrun(facts, stroke);
      const tip = stroke.way.bottom - overrun;
      if (!(tip < opening.full - ALLOWED)) continue;
      // Holes of one cycle and one drill are one mistake.
      if (!reporter.isNew(keyOf(stroke, opening))) continue;
      const kind = kindOfHole(facts, stroke, opening);
      if (kind !== 'through') {
        reporter.tell(messageFor(kind, tip, opening), stroke.in.line, ['Z'], dataOf(facts, stroke, opening, overrun));
      }
    }
  },
});

/**
 * Nobody taps past the drill's tip but in a through hole, where the tap's lead has to come out below; between the tip and the
 * full diameter the drill's point was probably forgotten.
 */
const messageFor = (kind: 'blind' | 'open', tip: number, opening: Opening): string => {
  if (kind === 'blind') return 'strikes';
  return tip < opening.tip - ALLOWED ? 'past' : 'perhaps';
};

const keyOf = ({ in: pass, cycle, way, tap, place }: TapStroke, { full, tool }: Opening): string =>
  cycle > 0 ? `${cycle} ${way.bottom} ${threadName(tap)} ${full} ${tool.number} ${place.offset}` : `${pass.line}`;

/** Whether the hole goes through, as far as the blank or a remark says it. */
const kindOfHole = (facts: ProgramFacts, { in: pass }: TapStroke, opening: Opening): 'through' | 'blind' | 'open' => {
  const { configuration, pool } = facts;
  const stock = stockShape(configuration);
  if (stock !== undefined && stock.offset === offsetUnder(pool, pass.modes)) {
    return opening.full <= stock.bottom + 1e-6 ? 'through' : 'blind';
  }
  const remarks = [pass.modes, opening.modes].flatMap((modes) =>
    [Mode.toolRemark, Mode.operationRemark].map((field) => pool.string(pool.at(modes, field))),
  );
  if (remarks.some((remark) => THROUGH.test(remark))) return 'through';
  return remarks.some((remark) => BLIND.test(remark)) ? 'blind' : 'open';
};

const dataOf = (facts: ProgramFacts, stroke: TapStroke, opening: Opening, overrun: number) => {
  const unit = unitOfPass(facts.pool, stroke.in);
  const { tip, full, tool } = opening;
  const length = (value: number): string => asLength(value, unit);
  return {
    tip: length(stroke.way.bottom),
    overrun: overrun > ALLOWED ? ` and ${length(overrun)} deeper by its holder` : '',
    drill: toolName(tool),
    full: length(full),
    end: length(tip),
    most: length(roundedUp(full + overrun, unit)),
    by: length(roundedUp(full - stroke.way.bottom + overrun, unit)),
    lengthUnit: unit === 1 ? 'mm' : 'in',
  };
};

/** A level or length in mm, up to two places in the program's unit (three in inches): on the safe side. */
const roundedUp = (value: number, unit: number): number => {
  const scale = (unit === 1 ? 100 : 1000) / unit;
  return Math.ceil(value * scale - 1e-6) / scale;
};
