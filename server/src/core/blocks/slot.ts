/** A slot with round ends: along its middle line and round its walls, or cleared in circles. */
import type { BlockKind } from './blockKind.ts';
import {
  CENTRE_PARAMETERS,
  CLEARANCE,
  centresOf,
  choice,
  number,
  RETRACT,
  SPEED_AND_FEED,
  TOP,
} from './commonParameters.ts';
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
import { planCircles } from './slotCircles.ts';
import type { Values } from './values.ts';

const SLOT = { needed: true, above: 0, group: 'Slot' };

export const slot: BlockKind = {
  name: 'slot',
  title: 'Slot',
  summary: 'Cuts a slot with round ends, straight along it or in circles (trochoidal).',
  prefix: 'slot',
  parameters: [
    number(
      'length',
      'Length',
      'mm',
      'Length of the finished slot over its round ends, along X before it is turned.',
      SLOT,
    ),
    number('width', 'Width', 'mm', 'Width of the finished slot.', SLOT),
    DEPTH,
    ...CUTTER_PARAMETERS,
    CORNER_RADIUS,
    CUTTING_LENGTH,
    ...SPEED_AND_FEED,
    ...CENTRE_PARAMETERS,
    ANGLE,
    {
      ...choice(
        'style',
        'Way of cutting',
        'Straight along the slot, or in circles that take a thin chip at great depth.',
        [
          ['straight', 'Straight'],
          ['trochoidal', 'In circles (trochoidal)'],
        ],
      ),
      group: 'How',
    },
    DIRECTION,
    ...entryParameters('', 'Left out: a ramp along the slot; for circles a helix at its end.'),
    stepdown(
      'How deep one level is at most; the levels are made even. Left out: half the cutter; in circles the flute length, or all at once.',
    ),
    stepover(
      'How far one round goes out, or one circle goes on, at most, of the cutter’s diameter. Left out: 50; in circles 10.',
    ),
    WALL_ALLOWANCE,
    FLOOR_ALLOWANCE,
    TOP,
    CLEARANCE,
    RETRACT,
  ],
  plan: planSlot,
};

function planSlot(values: Values, plan: BlockPlan): WriteBody | undefined {
  const inCircles = values.text('style') === 'trochoidal';
  const cutter = shapeCutter(values, plan);
  const deep = values.optionalNumber('cutting-length') ?? Number.POSITIVE_INFINITY;
  const levels = pocketLevels(values, plan, inCircles ? deep : cutter.radius);
  const outline = outlineOf(values, plan, cutter);
  if (outline === undefined) return undefined;
  const clockwise = values.text('direction') === 'conventional';
  plan.caution('PROVE IN THE AIR FIRST. CUTTER, TOP AND CLAMPS CHECKED?');
  const angle = values.number('angle');
  for (const centre of centresOf(values))
    plan.limits.push({ ...outline, centre, angle, side: 'inside', below: levels.top });
  if (inCircles) {
    const circles = planCircles(values, plan, cutter, outline, { clockwise, drop: levels.drop });
    return circles && writePocket(values, plan, cutter, levels, { ...circles, angle });
  }
  const kind = (values.optionalText('entry') ?? 'ramp') as EntryKind;
  const room = pocketRoom(outline, cutter, HELIX_RADIUS);
  const entry = planEntry(values, plan, cutter, { ...room, kind, clockwise, drop: levels.drop });
  const covered = kind === 'ramp' ? room.ramp : 0;
  const step = roundStep(values, plan, cutter, 50);
  const draw = planLoops(plan, cutter, outline, { step, clockwise, covered });
  return entry === undefined ? undefined : writePocket(values, plan, cutter, levels, { entry, draw, angle });
}

/** The centre's round along the walls; undefined with a problem where cutter and slot do not go together. */
const outlineOf = (values: Values, plan: BlockPlan, { diameter, radius }: ShapeCutter): PocketOutline | undefined => {
  const [length, width] = [values.number('length'), values.number('width')];
  if (length < width - 1e-9) {
    plan.problem(
      'length',
      `A slot of ${plan.say(width)} with round ends is at least as long, and ${plan.say(length)} is ${plan.say(width - length)} too short. Give the length over the ends, and turn the slot by its angle.`,
    );
    return undefined;
  }
  if (!fitsBetweenWalls(values, plan, diameter, width, 'slot')) return undefined;
  const inward = values.number('wall-allowance') + radius;
  const halfWidth = Math.max(0, width / 2 - inward);
  return { halfLength: (length - width) / 2 + halfWidth, halfWidth, corner: halfWidth };
};
