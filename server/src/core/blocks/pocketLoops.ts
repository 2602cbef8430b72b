/**
 * Clears a rectangle with rounded corners, a straight slot among them: its middle line first, then rounds outward, each a
 * step larger, the last one along the wall.
 */
import type { Place } from './parameter.ts';
import type { BlockPlan } from './plan.ts';
import type { EntryRoom } from './pocketEntry.ts';
import type { DrawLevel } from './pocketLevels.ts';
import { feedInside, type ShapeCutter } from './shapeCutter.ts';
import { drawLoop, type Loop, loopStart } from './shapeLoop.ts';
import { evenSteps } from './stepping.ts';
import type { Values } from './values.ts';

/**
 * Largest step of a round, as a part of the cutter: beyond, a round with sharp corners leaves metal standing on the diagonal.
 * A step s moves the corner by s·√2, and cutter and inner round reach r and r·√2 into it: s ≤ r·(1 + 1/√2) = 0.853·d.
 */
const MOST_STEP = 0.85;

/** A pocket as the cutter's centre sees it: half lengths of its largest round and the corner of that; mm. Long along X. */
export interface PocketOutline {
  readonly halfLength: number;
  readonly halfWidth: number;
  readonly corner: number;
}

/** Step of a round in mm, at most as asked, in % of the cutter; words go to the plan. `usual`: % where none is given. */
export const roundStep = (values: Values, plan: BlockPlan, cutter: ShapeCutter, usual: number): number => {
  const asked = values.optionalNumber('stepover') ?? usual;
  if (asked > MOST_STEP * 100) {
    plan.word(
      'stepover',
      `A stepover of ${plan.say(asked, '%')} leaves metal standing between the rounds. ${MOST_STEP * 100} % is taken.`,
    );
  }
  const step = (Math.min(asked, MOST_STEP * 100) / 100) * cutter.diameter;
  const flat = cutter.diameter - 2 * cutter.cornerRadius;
  if (step > flat + 1e-9) {
    plan.word(
      'corner-radius',
      `The corner radius of ${plan.say(cutter.cornerRadius)} leaves ridges on the floor at a step of ${plan.say(step)}. ${flat > 0 ? `A stepover of ${plan.say((flat / cutter.diameter) * 100, '%')} or less leaves none.` : 'A ball nose always leaves some.'}`,
    );
  }
  return step;
};

/** Says the even step of rounds, mm and % of the cutter. */
export const sayStep = (plan: BlockPlan, cutter: ShapeCutter, size: number): void => {
  if (size > 0)
    plan.fact('stepover', 'Step of a round', `${plan.say(size)} (${plan.say((size / cutter.diameter) * 100, '%')})`);
};

/** True if the cutter goes between two walls `width` apart with what is left on them; else a problem goes to the plan. mm. */
export const fitsBetweenWalls = (
  values: Values,
  plan: BlockPlan,
  diameter: number,
  width: number,
  what: string,
): boolean => {
  const allowance = values.number('wall-allowance');
  const room = width - 2 * allowance;
  if (room <= 0) {
    plan.problem(
      'wall-allowance',
      `With ${plan.say(allowance)} left on each wall nothing is cut in a ${what} of ${plan.say(width)}. Leave less than ${plan.say(width / 2)}.`,
    );
  } else if (diameter > room + 1e-9) {
    const left = allowance > 0 ? ` with ${plan.say(allowance)} left on each wall` : '';
    plan.problem(
      'tool',
      `A cutter of ${plan.say(diameter)} is ${plan.say(diameter - room)} too large for a ${what} of ${plan.say(width)}${left}. Take one of ${plan.say(room)} or less.`,
    );
  }
  return diameter <= room + 1e-9;
};

/** Room for the way in: a helix in the middle, or a ramp along the middle line. */
export const pocketRoom = (
  { halfLength, halfWidth }: PocketOutline,
  cutter: ShapeCutter,
  helixRadius: number,
): Pick<EntryRoom, 'centre' | 'helix' | 'ramp'> => ({
  centre: [0, 0],
  helix: Math.min(helixRadius * cutter.diameter, halfWidth),
  // The whole middle line, and in a square pocket as much as the cutter needs.
  ramp: Math.min(halfLength, Math.max(halfLength - halfWidth, cutter.radius)),
});

/**
 * How a level of the pocket is cut; facts go to the plan. `step`: most that a round grows, `covered`: half of the middle line
 * that the way in leaves flat.
 */
export const planLoops = (
  plan: BlockPlan,
  cutter: ShapeCutter,
  outline: PocketOutline,
  { step, clockwise, covered }: { readonly step: number; readonly clockwise: boolean; readonly covered: number },
): DrawLevel => {
  const { halfLength, halfWidth, corner } = outline;
  const { count, size } = evenSteps(halfWidth, step);
  if (count > 0) plan.fact('rounds', 'Rounds a level', count);
  sayStep(plan, cutter, size);
  const inside = (path: number): number =>
    path > 0 ? feedInside(cutter.feed, path, cutter.radius, plan.inch) : cutter.feed;
  const loops = Array.from({ length: count }, (_, i): Loop => {
    const inward = halfWidth - size * (i + 1);
    const own = Math.max(0, corner - inward);
    const roll = Math.min(cutter.diameter / 4, (halfWidth - inward) / 2);
    const [cornerFeed, rollFeed] = [inside(own), inside(roll)];
    const half = { halfLength: halfLength - inward, halfWidth: halfWidth - inward };
    return { ...half, corner: own, clockwise, roll, wall: 'around', feed: cutter.feed, cornerFeed, rollFeed };
  });
  const middle = halfLength - halfWidth;
  return (pen, from) => {
    if (covered < middle - 1e-9) drawMiddle(pen, middle, from, cutter.feed);
    for (const loop of loops) {
      pen.line(loopStart(loop), cutter.feed);
      drawLoop(pen, loop);
    }
  };
};

/** The middle line from end to end, from wherever the way in ended on it. */
const drawMiddle = (pen: Parameters<DrawLevel>[0], half: number, [x]: Place, feed: number): void => {
  const near = x < 0 ? -half : half;
  pen.line([near, 0], feed);
  pen.line([-near, 0], feed);
};
