/** What all pockets and slots do at their places: down level by level, and between levels back to the way in. */
import { type Levels, levelsOf } from './commonParameters.ts';
import type { Place } from './parameter.ts';
import type { BlockPlan, WriteBody } from './plan.ts';
import { drawEntry, type Entry, entryStart } from './pocketEntry.ts';
import { judgeFlutes, type ShapeCutter } from './shapeCutter.ts';
import type { ShapePen } from './shapePen.ts';
import { writeShape } from './shapeTime.ts';
import { evenLevels } from './stepping.ts';
import type { Values } from './values.ts';

/** Above a floor by this the cutter moves back to its way in, and begins it; mm (common practice, no source). */
const LIFT = 0.5;

/** Heights of a pocket, Z in mm. */
export interface PocketLevels extends Levels {
  /** Floors, the deepest last. */
  readonly floors: readonly number[];
  /** How far above a floor the next way down begins. */
  readonly lift: number;
  /** Drop of one way in, with the lift. */
  readonly drop: number;
}

/** Levels down to the floor that is left, in even steps; problems, words and facts go to the plan. `usual`: depth of cut where none is given. */
export const pocketLevels = (values: Values, plan: BlockPlan, usual: number): PocketLevels => {
  const levels = levelsOf(values);
  const whole = values.number('depth');
  const allowance = values.number('floor-allowance');
  const depth = whole - allowance;
  if (depth <= 1e-9) {
    plan.problem(
      'floor-allowance',
      `With ${plan.say(allowance)} left on the floor nothing is cut in a depth of ${plan.say(whole)}. Leave less than ${plan.say(whole)}.`,
    );
  }
  const floors = evenLevels(levels.top, levels.top - depth, values.optionalNumber('stepdown') ?? usual);
  const step = floors.length === 0 ? 0 : depth / floors.length;
  judgeFlutes(values, plan, depth, step);
  plan.fact('levels', 'Levels', floors.length);
  plan.fact('stepdown', 'Depth of cut', step, 'mm');
  plan.endHeight = levels.retract;
  plan.lowest = levels.top - depth;
  const lift = Math.min(LIFT, levels.clearance - levels.top);
  return { ...levels, floors, lift, drop: step + lift };
};

/** Cuts one level; the pen stands where the way in ended, on the level. */
export type DrawLevel = (pen: ShapePen, from: Place) => void;

/**
 * Writes a pocket at all its places, turned by `angle` degrees. Below the top nothing moves at rapid but straight up: rapids
 * do not run straight.
 */
export const writePocket = (
  values: Values,
  plan: BlockPlan,
  cutter: ShapeCutter,
  levels: PocketLevels,
  { entry, draw, angle = 0 }: { readonly entry: Entry; readonly draw: DrawLevel; readonly angle?: number },
): WriteBody =>
  writeShape(values, plan, angle, (pen, isFirst) => {
    const start = entryStart(entry);
    if (isFirst) beginSection(pen, values, cutter.speed, start, levels.retract);
    else pen.over(start);
    pen.rapidTo(levels.clearance);
    writeLevels(pen, levels, entry, draw);
    pen.rapidTo(levels.retract);
  });

/** Tool change where one is asked for, spindle, and over the first place of a shape at the safe level; mm, rev/min. */
export const beginSection = (pen: ShapePen, values: Values, speed: number, start: Place, retract: number): void => {
  pen.writer.section({ toolNumber: values.optionalNumber('tool-number'), speed, at: pen.place(start), retract });
  pen.stand(start);
};

const writeLevels = (pen: ShapePen, levels: PocketLevels, entry: Entry, draw: DrawLevel): void => {
  let floor = levels.top;
  levels.floors.forEach((level, i) => {
    if (i > 0) {
      pen.rapidTo(floor + levels.lift);
      pen.line(entryStart(entry), entry.levelFeed);
    } else if (levels.clearance > floor + levels.lift) pen.down(floor + levels.lift, entry.levelFeed);
    const from = drawEntry(pen, entry, floor + levels.lift, level);
    draw(pen, from);
    floor = level;
  });
};
