/** How long a shape takes to cut. */
import { BlockWriter } from './blockWriter.ts';
import { centresOf } from './commonParameters.ts';
import { sayTime } from './helixWay.ts';
import type { Place } from './parameter.ts';
import type { BlockPlan, WriteBody } from './plan.ts';
import { ShapePen } from './shapePen.ts';
import type { Values } from './values.ts';

/** Draws a shape at one of its places, the `first` one or a later one. */
export type DrawShape = (pen: ShapePen, isFirst: boolean) => void;

/** Writes a shape at all its places, turned by `angle` degrees; the time at feed goes to the plan. */
export const writeShape = (values: Values, plan: BlockPlan, angle: number, draw: DrawShape): WriteBody => {
  const centres: readonly Place[] = centresOf(values);
  const drawAll = (writer: BlockWriter): number => {
    const pens = centres.map((centre) => new ShapePen(writer, centre, angle));
    for (const [i, pen] of pens.entries()) draw(pen, i === 0);
    return pens.reduce((sum, { seconds }) => sum + seconds, 0);
  };
  // Drawn once for the time alone; without a speed or a feed there is none.
  if (plan.problems.length === 0) plan.fact('time', 'Time at feed', sayTime(drawAll(new BlockWriter(plan.context))));
  return (writer) => {
    drawAll(writer);
  };
};
