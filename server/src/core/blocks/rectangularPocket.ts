/** A pocket with four walls and rounded corners. */
import type { BlockKind } from './blockKind.ts';
import { CENTRE_PARAMETERS, CLEARANCE, centresOf, number, RETRACT, SPEED_AND_FEED, TOP } from './commonParameters.ts';
import type { BlockPlan, WriteBody } from './plan.ts';
import { type EntryKind, HELIX_RADIUS, planEntry } from './pocketEntry.ts';
import { pocketLevels, writePocket } from './pocketLevels.ts';
import { fitsBetweenWalls, type PocketOutline, planLoops, pocketRoom, roundStep } from './pocketLoops.ts';
import { type ShapeCutter, shapeCutter } from './shapeCutter.ts';
import {
  ANGLE,
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
import type { Values } from './values.ts';

const POCKET = { needed: true, above: 0, group: 'Pocket' };

export const rectangularPocket: BlockKind = {
  name: 'rectangular-pocket',
  title: 'Rectangular pocket',
  summary: 'Clears a pocket with four walls and rounded corners from its middle outward.',
  prefix: 'pocket',
  parameters: [
    number('length', 'Length', 'mm', 'Length of the finished pocket along X, before it is turned.', POCKET),
    number('width', 'Width', 'mm', 'Width of the finished pocket along Y, before it is turned.', POCKET),
    number('corner', 'Corner', 'mm', 'Radius of the finished corners. Left out: the cutter’s radius.', {
      above: 0,
      group: 'Pocket',
    }),
    DEPTH,
    ...CUTTER_PARAMETERS,
    CORNER_RADIUS,
    CUTTING_LENGTH,
    ...SPEED_AND_FEED,
    ...CENTRE_PARAMETERS,
    ANGLE,
    DIRECTION,
    ...entryParameters('helix', 'Down a helix in the middle, along a ramp on the middle line, or straight down.'),
    stepdown('How deep one level is at most; the levels are made even. Left out: half the cutter.'),
    stepover('How far one round goes out at most, of the cutter’s diameter; made even. Left out: 50.'),
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
  const [length, width] = [values.number('length'), values.number('width')];
  const outline = outlineOf(values, plan, cutter, length, width);
  if (outline === undefined) return undefined;
  const clockwise = values.text('direction') === 'conventional';
  const kind = values.text('entry') as EntryKind;
  const room = pocketRoom(outline, cutter, HELIX_RADIUS);
  const entry = planEntry(values, plan, cutter, { ...room, kind, clockwise, drop: levels.drop });
  const covered = kind === 'ramp' ? room.ramp : 0;
  const draw = planLoops(plan, cutter, outline, { step, clockwise, covered });
  plan.caution('PROVE IN THE AIR FIRST. CUTTER, TOP AND CLAMPS CHECKED?');
  // Loops run long along X: a pocket that is longer in Y is a turned one.
  const turned = width > length ? 90 : 0;
  const angle = values.number('angle') + turned;
  for (const centre of centresOf(values))
    plan.limits.push({ ...outline, centre, angle, side: 'inside', below: levels.top });
  return entry === undefined ? undefined : writePocket(values, plan, cutter, levels, { entry, draw, angle });
}

/** The largest round of the centre; undefined with a problem where cutter and pocket do not go together. */
const outlineOf = (
  values: Values,
  plan: BlockPlan,
  { radius, diameter }: ShapeCutter,
  length: number,
  width: number,
): PocketOutline | undefined => {
  const allowance = values.number('wall-allowance');
  const corner = values.optionalNumber('corner') ?? Math.min(radius, length / 2, width / 2);
  const short = Math.min(length, width);
  if (!fitsBetweenWalls(values, plan, diameter, short, 'pocket')) return undefined;
  if (corner > short / 2 + 1e-9) {
    plan.problem(
      'corner',
      `Corners of ${plan.say(corner)} do not fit into a width of ${plan.say(short)}. The most is ${plan.say(short / 2)}.`,
    );
    return undefined;
  }
  if (corner < radius - 1e-9) {
    plan.problem(
      'corner',
      `A cutter of ${plan.say(diameter)} cannot cut corners of ${plan.say(corner)}: it leaves ${plan.say(radius)}. Take a cutter of ${plan.say(2 * corner)} or less, or give corners of ${plan.say(radius)} or more.`,
    );
    return undefined;
  }
  if (values.optionalNumber('corner') === undefined) plan.fact('corner', 'Corners', corner, 'mm');
  const inward = allowance + radius;
  return {
    halfLength: Math.max(length, width) / 2 - inward,
    halfWidth: Math.max(0, short / 2 - inward),
    corner: Math.max(0, corner - inward),
  };
};
