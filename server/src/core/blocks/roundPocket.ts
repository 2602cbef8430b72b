/** A round pocket, cleared on a spiral of half circles from its middle to its wall. */
import type { BlockKind } from './blockKind.ts';
import { CENTRE_PARAMETERS, CLEARANCE, centresOf, number, RETRACT, SPEED_AND_FEED, TOP } from './commonParameters.ts';
import type { BlockPlan, WriteBody } from './plan.ts';
import { type EntryKind, HELIX_RADIUS, planEntry } from './pocketEntry.ts';
import { type DrawLevel, pocketLevels, writePocket } from './pocketLevels.ts';
import { roundStep, sayStep } from './pocketLoops.ts';
import { feedInside, type ShapeCutter, shapeCutter } from './shapeCutter.ts';
import {
  CORNER_RADIUS,
  CUTTER_PARAMETERS,
  CUTTING_LENGTH,
  DEPTH,
  DIRECTION,
  entryParameters,
  FLOOR_ALLOWANCE,
  stepdown,
  stepover,
  WALL_ALLOWANCE,
} from './shapeParameters.ts';
import { evenSteps } from './stepping.ts';
import type { Values } from './values.ts';

export const roundPocket: BlockKind = {
  name: 'round-pocket',
  title: 'Round pocket',
  summary: 'Clears a round pocket on a spiral from its middle to its wall.',
  prefix: 'round',
  parameters: [
    number('diameter', 'Diameter', 'mm', 'Diameter of the finished pocket.', {
      needed: true,
      above: 0,
      group: 'Pocket',
    }),
    DEPTH,
    ...CUTTER_PARAMETERS,
    CORNER_RADIUS,
    CUTTING_LENGTH,
    ...SPEED_AND_FEED,
    ...CENTRE_PARAMETERS,
    DIRECTION,
    ...entryParameters('helix', 'Down a helix in the middle, along a ramp through the middle, or straight down.'),
    stepdown('How deep one level is at most; the levels are made even. Left out: half the cutter.'),
    stepover('How far the spiral goes out a turn at most, of the cutter’s diameter; made even. Left out: 50.'),
    WALL_ALLOWANCE,
    FLOOR_ALLOWANCE,
    TOP,
    CLEARANCE,
    RETRACT,
  ],
  plan: planPocket,
};

function planPocket(values: Values, plan: BlockPlan): WriteBody | undefined {
  const cutter = shapeCutter(values, plan);
  const levels = pocketLevels(values, plan, cutter.radius);
  const step = roundStep(values, plan, cutter, 50);
  const path = pathRadius(values, plan, cutter);
  if (path === undefined) return undefined;
  const clockwise = values.text('direction') === 'conventional';
  const helix = Math.min(HELIX_RADIUS * cutter.diameter, path);
  const entry = planEntry(values, plan, cutter, {
    kind: values.text('entry') as EntryKind,
    clockwise,
    centre: [0, 0],
    helix,
    ramp: Math.min(path, cutter.diameter),
    drop: levels.drop,
  });
  const draw = planSpiral(plan, cutter, path, helix, step, clockwise, values.text('entry') === 'helix');
  plan.caution('PROVE IN THE AIR FIRST. CUTTER, TOP AND CLAMPS CHECKED?');
  for (const centre of centresOf(values)) plan.limits.push({ centre, radius: path, side: 'inside', below: levels.top });
  return entry === undefined ? undefined : writePocket(values, plan, cutter, levels, { entry, draw });
}

/** Radius of the centre's path along the wall; undefined with a problem where the cutter does not fit. */
const pathRadius = (values: Values, plan: BlockPlan, { diameter }: ShapeCutter): number | undefined => {
  const pocket = values.number('diameter');
  const allowance = values.number('wall-allowance');
  const room = pocket - 2 * allowance;
  if (room <= 0) {
    plan.problem(
      'wall-allowance',
      `With ${plan.say(allowance)} left on the wall nothing is cut in a pocket of ${plan.say(pocket)}. Leave less than ${plan.say(pocket / 2)}.`,
    );
    return undefined;
  }
  if (diameter > room / 1.02) {
    const left = allowance > 0 ? ` with ${plan.say(allowance)} left on the wall` : '';
    plan.problem(
      'tool',
      `A cutter of ${plan.say(diameter)} has no room to go round in a pocket of ${plan.say(pocket)}${left}. Take one of ${plan.say(room / 1.15)} or less.`,
    );
    return undefined;
  }
  if (diameter > room / 1.15) {
    plan.word(
      'tool',
      `The cutter of ${plan.say(diameter)} leaves chips little room in a pocket of ${plan.say(room)}. One of ${plan.say(room / 1.15)} or less leaves more.`,
    );
  }
  return (room - diameter) / 2;
};

/**
 * A level: a full turn where the way in went, half circles that grow by half a step each, a full turn along the wall, and
 * off it on a half circle. Each goes on where the one before it ended, in the same direction.
 */
const planSpiral = (
  plan: BlockPlan,
  cutter: ShapeCutter,
  path: number,
  helix: number,
  step: number,
  clockwise: boolean,
  isHelix: boolean,
): DrawLevel => {
  const { count, size } = evenSteps(path - helix, step);
  plan.fact('rounds', 'Turns of the spiral a level', count);
  sayStep(plan, cutter, size);
  const feed = (radius: number): number => feedInside(cutter.feed, radius, cutter.radius, plan.inch);
  const off = Math.min(path / 2, cutter.diameter / 4);
  return (pen, from) => {
    let x = from[0];
    const halfTo = (to: number): void => {
      pen.arc(clockwise, [to, 0], [(x + to) / 2, 0], feed(Math.abs(to - x) / 2));
      x = to;
    };
    const turn = (): void => pen.arc(clockwise, [x, 0], [0, 0], feed(Math.abs(x)));
    if (!isHelix) {
      pen.line([0, 0], cutter.feed);
      x = 0;
      halfTo(helix);
      if (count > 0) turn();
    }
    for (let i = 1; i <= 2 * count; i++) halfTo(-Math.sign(x) * (helix + (size * i) / 2));
    if (count > 0 || !isHelix) turn();
    halfTo(x - Math.sign(x) * 2 * off);
  };
};
