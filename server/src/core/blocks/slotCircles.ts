/**
 * Clears a slot in circles between its walls, each a small step further along (trochoidal), and once round along the walls
 * for what the circles leave between them.
 */

import type { BlockPlan } from './plan.ts';
import { type Entry, type EntryKind, planEntry } from './pocketEntry.ts';
import type { DrawLevel } from './pocketLevels.ts';
import type { PocketOutline } from './pocketLoops.ts';
import { feedInside, type ShapeCutter } from './shapeCutter.ts';
import { drawLoop, type Loop, loopStart } from './shapeLoop.ts';
import { evenSteps } from './stepping.ts';
import type { Values } from './values.ts';

/** A circle of less than this part of the cutter is none: the whole width is cut at once. */
const LEAST_CIRCLE = 0.05;
/** More of the slot than this should not be cutter (common practice, no source). */
const USUAL_CUTTER = 0.75;
/** Steps along the slot; beyond, the block is better made with a larger step. */
const MOST_CIRCLES = 2000;

/** Way in and cut of a slot in circles; problems, words and facts go to the plan. Undefined where it cannot be had. */
export const planCircles = (
  values: Values,
  plan: BlockPlan,
  cutter: ShapeCutter,
  outline: PocketOutline,
  { clockwise, drop }: { readonly clockwise: boolean; readonly drop: number },
): { entry: Entry; draw: DrawLevel } | undefined => {
  const { halfLength, halfWidth: circle } = outline;
  const middle = halfLength - circle;
  const kind = (values.optionalText('entry') ?? 'helix') as EntryKind;
  if (kind === 'ramp') {
    plan.problem(
      'entry',
      'A ramp along the slot would cut its whole width, which the circles are to avoid. Take the helix, or straight down.',
    );
    return undefined;
  }
  if (!hasRoom(plan, cutter, circle)) return undefined;
  const { count, size } = evenSteps(2 * middle, ((values.optionalNumber('stepover') ?? 10) / 100) * cutter.diameter);
  plan.fact('circles', 'Circles a level', count + 1);
  if (count > 0) plan.fact('stepover', 'Step of a circle', size, 'mm');
  if (count > MOST_CIRCLES) {
    plan.problem(
      'stepover',
      `It would take ${count} circles a level; the most is ${MOST_CIRCLES}. Give a stepover of ${plan.say((200 * middle) / MOST_CIRCLES / cutter.diameter, '%', 2)} or more.`,
    );
  }
  const room = { kind, clockwise, centre: [-middle, 0], helix: circle, ramp: 0, drop } as const;
  const entry = planEntry(values, plan, cutter, room);
  return entry && { entry, draw: drawCircles(plan, cutter, outline, { clockwise, count, size }) };
};

/** True if the circles have room, and leave no core where they begin. */
const hasRoom = (plan: BlockPlan, cutter: ShapeCutter, circle: number): boolean => {
  const room = 2 * (circle + cutter.radius);
  if (circle < LEAST_CIRCLE * cutter.diameter - 1e-9) {
    plan.problem(
      'tool',
      `A cutter of ${plan.say(cutter.diameter)} has no room for circles in ${plan.say(room)} between the walls. Take one of ${plan.say(USUAL_CUTTER * room)} or less, or cut straight.`,
    );
    return false;
  }
  const flat = cutter.radius - cutter.cornerRadius;
  if (circle > flat + 1e-9) {
    plan.problem(
      'tool',
      `Circles of ${plan.say(2 * circle)} on the cutter’s centre leave a core of ${plan.say(2 * (circle - flat))} standing where they begin. Take a larger cutter, or cut straight.`,
    );
    return false;
  }
  if (cutter.diameter > USUAL_CUTTER * room + 1e-9) {
    plan.word(
      'tool',
      `A cutter of ${plan.say(cutter.diameter)} in ${plan.say(room)} between the walls makes small circles and thick chips. One of ${plan.say(USUAL_CUTTER * room)} or less is usual.`,
    );
  }
  return true;
};

/** The level turn of the way in is the first circle; each step goes straight on along the wall and round once. */
const drawCircles = (
  plan: BlockPlan,
  cutter: ShapeCutter,
  { halfLength, halfWidth: circle, corner }: PocketOutline,
  { clockwise, count, size }: { readonly clockwise: boolean; readonly count: number; readonly size: number },
): DrawLevel => {
  const middle = halfLength - circle;
  const feed = feedInside(cutter.feed, circle, cutter.radius, plan.inch);
  const roll = Math.min(cutter.diameter / 4, circle / 2);
  const rollFeed = feedInside(cutter.feed, roll, cutter.radius, plan.inch);
  const half = { halfLength, halfWidth: circle };
  const walls: Loop = {
    ...half,
    corner,
    clockwise,
    roll,
    wall: 'around',
    feed: cutter.feed,
    cornerFeed: feed,
    rollFeed,
  };
  // Where the circles meet the wall along which they go on, so that they run into it without a corner.
  const side = clockwise ? circle : -circle;
  return (pen) => {
    for (let i = 0; i <= count; i++) {
      const x = -middle + size * i;
      pen.line([x, side], cutter.feed);
      pen.arc(clockwise, [x, side], [x, 0], feed);
    }
    pen.line(loopStart(walls), cutter.feed);
    drawLoop(pen, walls);
  };
};
