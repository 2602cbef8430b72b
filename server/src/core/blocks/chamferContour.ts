/** The edge that is chamfered, as the cutter's centre goes round it. */
import type { ChamferCone } from './chamferCone.ts';
import type { Place } from './parameter.ts';
import type { BlockPlan } from './plan.ts';
import { feedInside, feedOutside } from './shapeCutter.ts';
import { drawLoop, type Loop, loopStart } from './shapeLoop.ts';
import type { ShapePen } from './shapePen.ts';
import type { Values } from './values.ts';

/** Beyond the chamfer the cutter stays clear of the edge by this before it rolls on, mm (common practice, no source). */
const CLEAR = 2;

/** A round or rectangular contour. */
export interface ChamferContour {
  /** A circle has equal halves and corner. */
  readonly loop: Loop;
  readonly isRound: boolean;
  readonly side: 'internal' | 'external';
}

/** The contour in mm as it was given; undefined with a problem where none, or two, were. */
const givenContour = (
  values: Values,
  plan: BlockPlan,
): { length: number; width: number; corner: number } | undefined => {
  const diameter = values.optionalNumber('diameter');
  const [length, width] = [values.optionalNumber('length'), values.optionalNumber('width')];
  if (diameter !== undefined && (length !== undefined || width !== undefined)) {
    plan.problem('diameter', 'A contour is round or rectangular. Give either the diameter, or length and width.');
    return undefined;
  }
  if (diameter !== undefined) return { length: diameter, width: diameter, corner: diameter / 2 };
  if (length === undefined || width === undefined) {
    const missing =
      length === undefined && width === undefined ? 'diameter' : length === undefined ? 'length' : 'width';
    plan.problem(missing, 'The contour is missing. Give its diameter, or length and width of a rectangle.');
    return undefined;
  }
  const corner = values.number('corner');
  const most = Math.min(length, width) / 2;
  if (corner > most + 1e-9) {
    plan.problem(
      'corner',
      `Corners of ${plan.say(corner)} do not fit into a width of ${plan.say(2 * most)}. The most is ${plan.say(most)}.`,
    );
    return undefined;
  }
  return { length, width, corner };
};

/** The centre's round; undefined with a problem where the cone has no room in it. */
export const contourOf = (values: Values, plan: BlockPlan, cone: ChamferCone): ChamferContour | undefined => {
  const given = givenContour(values, plan);
  if (given === undefined) return undefined;
  const isRound = values.optionalNumber('diameter') !== undefined;
  const isClimb = values.text('direction') === 'climb';
  const { length, width, corner } = given;
  if (values.text('side') === 'external') {
    const out = cone.lower;
    const half = { halfLength: length / 2 + out, halfWidth: width / 2 + out, corner: corner + out };
    // Round corners outside keep the feed: some tenths of a millimetre at several times the feed are only a jerk.
    const cornerFeed = isRound ? feedOutside(cone.feed, corner + out, out, plan.inch) : cone.feed;
    const feeds = { feed: cone.feed, cornerFeed, rollFeed: cone.feed };
    const roll = cone.size + CLEAR;
    return { loop: { ...half, ...feeds, clockwise: isClimb, roll, wall: 'within' }, isRound, side: 'external' };
  }
  if (!hasRoomInside(plan, cone, given, isRound)) return undefined;
  const half = { halfLength: length / 2 - cone.lower, halfWidth: width / 2 - cone.lower };
  const inner = Math.max(0, corner - cone.lower);
  const room = Math.min(half.halfLength, half.halfWidth) / 2;
  const roll = isRound ? room : Math.min(cone.size + CLEAR, room);
  const inside = (path: number): number => (path > 0 ? feedInside(cone.feed, path, cone.upper, plan.inch) : cone.feed);
  const feeds = { feed: cone.feed, cornerFeed: inside(inner), rollFeed: inside(roll) };
  const loop: Loop = { ...half, ...feeds, corner: inner, clockwise: !isClimb, roll, wall: 'around' };
  return { loop, isRound, side: 'internal' };
};

/** True if the cone can go down in the middle without touching, and round in the corners. */
const hasRoomInside = (
  plan: BlockPlan,
  { size, lower, upper }: ChamferCone,
  { length, width, corner }: { readonly length: number; readonly width: number; readonly corner: number },
  isRound: boolean,
): boolean => {
  const across = Math.min(length, width);
  if (across < 2 * upper - 1e-9) {
    plan.problem(
      isRound ? 'diameter' : length < width ? 'length' : 'width',
      `The cutter is ${plan.say(2 * upper)} across where the chamfer of ${plan.say(size)} ends, and has no room to go round in ${plan.say(across)}. Put the tip less far below, or countersink straight down.`,
    );
    return false;
  }
  if (!isRound && corner < lower - 1e-9) {
    plan.problem(
      'corner',
      `Inside corners of ${plan.say(corner)} are too sharp for a cone that is ${plan.say(2 * lower)} across at the chamfer’s lower edge: it would cut into them. The least is ${plan.say(lower)}; put the tip less far below, or give the corners as they are.`,
    );
    return false;
  }
  return true;
};

/** Where the cutter goes down: in the middle of an inside contour, beside the edge of an outside one. */
export const middleFirst = (contour: ChamferContour): Place => {
  if (contour.side === 'internal') return [0, 0];
  return contour.isRound ? roundEnds(contour.loop)[0] : loopStart(contour.loop);
};

/** Where the round of a circle outside begins and ends: a quarter circle beside it. */
const roundEnds = ({ halfLength, roll, clockwise }: Loop): readonly [Place, Place] => {
  const ahead = clockwise ? roll : -roll;
  return [
    [halfLength + roll, ahead],
    [halfLength + roll, -ahead],
  ];
};

/** Draws one round from where the cutter went down. */
export const drawContour = (pen: ShapePen, { loop, isRound, side }: ChamferContour, feed: number): void => {
  if (!isRound) {
    pen.line(loopStart(loop), feed);
    drawLoop(pen, loop);
    return;
  }
  const { halfLength: radius, clockwise, roll, rollFeed, cornerFeed } = loop;
  const isInside = side === 'internal';
  const rollsClockwise = isInside ? clockwise : !clockwise;
  const rollCentre: Place = [isInside ? radius - roll : radius + roll, 0];
  pen.arc(rollsClockwise, [radius, 0], rollCentre, rollFeed);
  pen.arc(clockwise, [radius, 0], [0, 0], cornerFeed);
  pen.arc(rollsClockwise, isInside ? [0, 0] : roundEnds(loop)[1], rollCentre, rollFeed);
};
