/** A chamfer along the edge of a round or rectangular contour, inside or outside. */
import type { BlockKind } from './blockKind.ts';
import { formatLength } from './blockWriter.ts';
import { type ChamferCone, coneOf } from './chamferCone.ts';
import { type ChamferContour, contourOf, drawContour, middleFirst } from './chamferContour.ts';
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
import type { BlockPlan, WriteBody } from './plan.ts';
import { beginSection } from './pocketLevels.ts';
import { ANGLE, CUTTER_PARAMETERS, DIRECTION, stepdown } from './shapeParameters.ts';
import { writeShape } from './shapeTime.ts';
import { evenLevels } from './stepping.ts';
import type { Values } from './values.ts';

const EDGE = { above: 0, group: 'Edge' };
const CONE = { least: 0, group: 'Tool' };

export const chamfer: BlockKind = {
  name: 'chamfer',
  title: 'Chamfer',
  summary: 'Breaks the edge of a round or rectangular contour with a chamfer cutter.',
  prefix: 'chamfer',
  parameters: [
    number('diameter', 'Diameter', 'mm', 'Of a round contour: its diameter at the wall, without the chamfer.', EDGE),
    number('length', 'Length', 'mm', 'Of a rectangular contour: its length along X before it is turned.', EDGE),
    number('width', 'Width', 'mm', 'Of a rectangular contour: its width along Y before it is turned.', EDGE),
    number('corner', 'Corner', 'mm', 'Radius of the rectangle’s corners. Left out: sharp.', {
      least: 0,
      fallback: '0',
      group: 'Edge',
    }),
    {
      ...choice('side', 'Side', 'The edge of a hole or pocket, or of the part’s outside.', [
        ['internal', 'Inside'],
        ['external', 'Outside'],
      ]),
      group: 'Edge',
    },
    number('depth', 'Depth', 'mm', 'How far down the chamfer goes from the top; or give its width.', EDGE),
    number('size', 'Chamfer', 'mm', 'Width of the chamfer as seen from above, in place of its depth.', EDGE),
    ...CUTTER_PARAMETERS,
    number('point-angle', 'Point angle', '°', 'Angle between the edges of the cutter: 90 for a chamfer of 45°.', {
      above: 0,
      most: 170,
      fallback: '90',
      group: 'Tool',
    }),
    number('tip', 'Tip', 'mm', 'Diameter of the flat at the cutter’s tip.', { ...CONE, fallback: '0' }),
    number('tip-offset', 'Tip below', 'mm', 'How far the tip goes below the chamfer, so that it does not cut itself.', {
      ...CONE,
      fallback: '0.5',
    }),
    ...SPEED_AND_FEED,
    ...CENTRE_PARAMETERS,
    ANGLE,
    DIRECTION,
    stepdown('How much of the chamfer’s depth one round takes at most; made even. Left out: all at once.'),
    TOP,
    CLEARANCE,
    RETRACT,
  ],
  plan: planChamfer,
};

function planChamfer(values: Values, plan: BlockPlan): WriteBody | undefined {
  const cone = coneOf(values, plan);
  const contour = cone && contourOf(values, plan, cone);
  if (cone === undefined || contour === undefined) return undefined;
  const { top, clearance, retract } = levelsOf(values);
  const tips = evenLevels(top, top - cone.depth, values.optionalNumber('stepdown') ?? Number.POSITIVE_INFINITY).map(
    (level) => level - cone.tipOffset,
  );
  tell(values, plan, cone, contour, tips);
  plan.endHeight = retract;
  plan.lowest = tips[tips.length - 1];
  return writeShape(values, plan, values.number('angle'), (pen, isFirst) => {
    const start = middleFirst(contour);
    if (isFirst) beginSection(pen, values, cone.speed, start, retract);
    else pen.over(start);
    pen.rapidTo(clearance);
    for (const [round, tip] of tips.entries()) {
      if (round > 0) pen.line(start, cone.feed);
      pen.down(tip, cone.feed);
      drawContour(pen, contour, cone.feed);
    }
    pen.rapidTo(retract);
  });
}

/** Facts, cautions and limits. */
const tell = (
  values: Values,
  plan: BlockPlan,
  cone: ChamferCone,
  { loop, side }: ChamferContour,
  tips: readonly number[],
): void => {
  const tip = tips[tips.length - 1];
  plan.fact('chamfer-depth', 'Depth of the chamfer', cone.depth, 'mm');
  plan.fact('tip-level', 'Tip goes down to', `Z${formatLength(tip / (plan.inch ? 25.4 : 1), plan.inch)}`);
  plan.fact('offset', 'Cutter’s centre from the wall', cone.lower, 'mm');
  plan.fact('cutting-diameter', 'Cutting diameter', 2 * cone.upper, 'mm');
  plan.fact('rounds', 'Rounds', tips.length);
  plan.caution(
    'PROVE IN THE AIR FIRST. IS ALL FREE AROUND THE EDGE',
    `DOWN TO Z${formatLength(tip / (plan.inch ? 25.4 : 1), plan.inch)}? IS THE EDGE WHERE IT SHOULD BE?`,
  );
  const { halfLength, halfWidth, corner } = loop;
  for (const centre of centresOf(values)) {
    const limit = { halfLength, halfWidth, corner, angle: values.number('angle'), below: levelsOf(values).top };
    plan.limits.push({ ...limit, centre, side: side === 'internal' ? 'inside' : 'outside' });
  }
};
