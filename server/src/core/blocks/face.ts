/** Faces a rectangle in rows: to and fro, or all the same way. */
import type { BlockKind } from './blockKind.ts';
import {
  CENTRE_PARAMETERS,
  CLEARANCE,
  centresOf,
  choice,
  levelsOf,
  number,
  RETRACT,
  SPEED_AND_FEED,
  TOP,
} from './commonParameters.ts';
import { type FaceRows, planRows, rowEnds } from './faceRows.ts';
import type { BlockPlan, WriteBody } from './plan.ts';
import { beginSection } from './pocketLevels.ts';
import { judgeFlutes, type ShapeCutter, shapeCutter } from './shapeCutter.ts';
import {
  ANGLE,
  CORNER_RADIUS,
  CUTTER_PARAMETERS,
  CUTTING_LENGTH,
  FLOOR_ALLOWANCE,
  stepdown,
  stepover,
} from './shapeParameters.ts';
import type { ShapePen } from './shapePen.ts';
import { writeShape } from './shapeTime.ts';
import { evenLevels } from './stepping.ts';
import type { Values } from './values.ts';

/** A level where none is given, mm (common practice, no source). */
const USUAL_LEVEL = 2;
/** From this diameter on a cutter for faces has inserts (common practice, no source), which chip loads follow; mm. */
const INSERTS_FROM = 32;

const SURFACE = { needed: true, above: 0, group: 'Surface' };

export const face: BlockKind = {
  name: 'face',
  title: 'Facing',
  summary: 'Faces a rectangular surface in rows that run over its edges.',
  prefix: 'face',
  parameters: [
    number('length', 'Length', 'mm', 'Length of the surface along X, before it is turned; rows run along it.', SURFACE),
    number('width', 'Width', 'mm', 'Width of the surface along Y, before it is turned.', SURFACE),
    number('depth', 'Depth', 'mm', 'How much is taken off below the top.', { needed: true, above: 0, group: 'Levels' }),
    ...CUTTER_PARAMETERS,
    CORNER_RADIUS,
    CUTTING_LENGTH,
    ...SPEED_AND_FEED,
    ...CENTRE_PARAMETERS,
    ANGLE,
    {
      ...choice('direction', 'Direction', 'To and fro, or all rows the same way with a rapid back above the top.', [
        ['both', 'To and fro'],
        ['climb', 'All climb'],
        ['conventional', 'All conventional'],
      ]),
      group: 'How',
    },
    stepdown('How deep one level is at most; the levels are made even. Left out: 2 mm.'),
    stepover('How wide one row is at most, of the cutter’s diameter; the rows are made even. Left out: 70.'),
    number('overrun', 'Overrun', 'mm', 'How far the cutter’s rim runs beyond both ends of a row.', {
      least: 0,
      fallback: '2',
      group: 'How',
    }),
    FLOOR_ALLOWANCE,
    TOP,
    CLEARANCE,
    RETRACT,
  ],
  plan: planFace,
};

function planFace(values: Values, plan: BlockPlan): WriteBody | undefined {
  const cutter = shapeCutter(values, plan, values.number('tool') < INSERTS_FROM ? 'end-mill' : 'face-mill');
  const floors = floorsOf(values, plan);
  const rows = planRows(values, plan, cutter);
  const levels = levelsOf(values);
  plan.caution('PROVE IN THE AIR FIRST. NO CLAMP OR VICE JAW IN THE WAY?');
  if (rows === undefined) return undefined;
  limitTo(values, plan, rows, levels.top);
  return writeShape(values, plan, values.number('angle'), (pen, isFirst) => {
    const { start } = rowEnds(rows, 0);
    if (isFirst) beginSection(pen, values, cutter.speed, start, levels.retract);
    else pen.over(start);
    pen.rapidTo(levels.clearance);
    for (const [level, floor] of floors.entries()) {
      if (level > 0) toNextLevel(pen, rows, levels.clearance);
      writeRows(pen, rows, cutter, floor, levels.clearance);
    }
    pen.rapidTo(levels.retract);
  });
}

const floorsOf = (values: Values, plan: BlockPlan): readonly number[] => {
  const { top, retract } = levelsOf(values);
  const allowance = values.number('floor-allowance');
  const depth = values.number('depth') - allowance;
  if (depth <= 1e-9) {
    plan.problem(
      'floor-allowance',
      `With ${plan.say(allowance)} left nothing is taken off ${plan.say(values.number('depth'))}. Leave less than that.`,
    );
  }
  const floors = evenLevels(top, top - depth, values.optionalNumber('stepdown') ?? USUAL_LEVEL);
  const step = floors.length === 0 ? 0 : depth / floors.length;
  // The depth of a face stands in the open: only a level that is deeper than the flutes matters.
  judgeFlutes(values, plan, step, step);
  plan.fact('levels', 'Levels', floors.length);
  plan.fact('stepdown', 'Depth of cut', step, 'mm');
  plan.endHeight = retract;
  plan.lowest = top - depth;
  return floors;
};

/** The cutter's centre keeps to its rows. */
const limitTo = (values: Values, plan: BlockPlan, { halfLength, places }: FaceRows, below: number): void => {
  const halfWidth = Math.max(...places.map(Math.abs));
  for (const centre of centresOf(values)) {
    const angle = values.number('angle');
    plan.limits.push({ centre, halfLength, halfWidth, corner: 0, angle, side: 'inside', below });
  }
};

const toNextLevel = (pen: ShapePen, rows: FaceRows, clearance: number): void => {
  pen.rapidTo(clearance);
  pen.over(rowEnds(rows, 0).start);
};

/** One level; the cutter stands beside the surface, where the first row begins. */
const writeRows = (pen: ShapePen, rows: FaceRows, { feed }: ShapeCutter, floor: number, clearance: number): void => {
  pen.down(floor, feed);
  rows.places.forEach((_, row) => {
    const { start, end } = rowEnds(rows, row);
    if (row > 0 && rows.isOneWay) {
      pen.rapidTo(clearance);
      pen.over(start);
      pen.down(floor, feed);
    } else pen.line(start, feed);
    pen.line(end, feed);
  });
};
