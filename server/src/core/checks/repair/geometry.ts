/** Plane geometry of the candidates. Lengths mm; points and directions in the plane's first and second axis. */

/** A point or a direction in the plane. */
export type PlanePoint = readonly [first: number, second: number];

/** A circle in the plane. */
export interface Circle {
  readonly centre: PlanePoint;
  readonly radius: number;
}

const minus = (a: PlanePoint, b: PlanePoint): PlanePoint => [a[0] - b[0], a[1] - b[1]];
const dot = (a: PlanePoint, b: PlanePoint): number => a[0] * b[0] + a[1] * b[1];

/** To the side on which the centre lies: right of the way for a clockwise arc. */
export const towardCentre = (direction: PlanePoint, clockwise: boolean): PlanePoint =>
  clockwise ? [direction[1], -direction[0]] : [-direction[1], direction[0]];

/** The circle through two points that sets off from the first one in a direction (unit vector); undefined where there is none. */
export const circleSettingOff = (
  start: PlanePoint,
  end: PlanePoint,
  direction: PlanePoint,
  clockwise: boolean,
): Circle | undefined => {
  const normal = towardCentre(direction, clockwise);
  const chord = minus(end, start);
  const radius = dot(chord, chord) / (2 * dot(chord, normal));
  if (!(radius > 1e-6 && radius < 1e6)) return undefined;
  return { centre: [start[0] + radius * normal[0], start[1] + radius * normal[1]], radius };
};

/** The circle through two points that arrives at the second one in a direction; undefined where there is none. */
export const circleArriving = (
  start: PlanePoint,
  end: PlanePoint,
  direction: PlanePoint,
  clockwise: boolean,
): Circle | undefined => circleSettingOff(end, start, [-direction[0], -direction[1]], !clockwise);

/** The two centres of the circles of a radius through two points; none where the radius does not reach. */
export const centresThrough = (start: PlanePoint, end: PlanePoint, radius: number): PlanePoint[] => {
  const chord = minus(end, start);
  const length = Math.hypot(chord[0], chord[1]);
  const half = length / 2;
  if (!(length > 1e-9) || !(radius >= half)) return [];
  const height = Math.sqrt(radius * radius - half * half);
  const middle: PlanePoint = [start[0] + chord[0] / 2, start[1] + chord[1] / 2];
  const across: PlanePoint = [(-chord[1] / length) * height, (chord[0] / length) * height];
  const left: PlanePoint = [middle[0] + across[0], middle[1] + across[1]];
  const right: PlanePoint = [middle[0] - across[0], middle[1] - across[1]];
  return height < 1e-9 ? [left] : [left, right];
};

/** The centre that is equally far from two points and has one coordinate given; undefined where there is none. */
export const centreOnBisector = (
  start: PlanePoint,
  end: PlanePoint,
  axis: 0 | 1,
  value: number,
): PlanePoint | undefined => {
  const chord = minus(end, start);
  const other = axis === 0 ? 1 : 0;
  if (Math.abs(chord[other]) < 1e-9) return undefined;
  const middle = [(start[0] + end[0]) / 2, (start[1] + end[1]) / 2];
  const solved = middle[other] - ((value - middle[axis]) * chord[axis]) / chord[other];
  return axis === 0 ? [value, solved] : [solved, value];
};

/**
 * Where a circle has one coordinate given: the other coordinate's values, none where the circle does not reach. Within
 * `tolerance` of its farthest point that point is one of them.
 */
export const onCircle = ({ centre, radius }: Circle, axis: 0 | 1, value: number, tolerance: number): number[] => {
  const across = Math.abs(value - centre[axis]);
  const middle = centre[axis === 0 ? 1 : 0];
  const values = Math.abs(across - radius) <= tolerance ? [middle] : [];
  const along = Math.sqrt(radius * radius - across * across);
  if (along > 1e-9) values.push(middle + along, middle - along);
  return values;
};

/** The point of a circle next to a point. */
export const nearestOn = ({ centre, radius }: Circle, point: PlanePoint): PlanePoint => {
  const way = minus(point, centre);
  const length = Math.hypot(way[0], way[1]);
  return [centre[0] + (way[0] / length) * radius, centre[1] + (way[1] / length) * radius];
};

/** Angle turned through about a centre in a direction of turning, radians, above 0 up to a full turn. */
export const turnAbout = (start: PlanePoint, end: PlanePoint, centre: PlanePoint, clockwise: boolean): number => {
  const from = Math.atan2(start[1] - centre[1], start[0] - centre[0]);
  const to = Math.atan2(end[1] - centre[1], end[0] - centre[0]);
  const turn = clockwise ? from - to : to - from;
  const positive = turn - Math.floor(turn / (2 * Math.PI)) * 2 * Math.PI;
  return positive < 1e-9 ? 2 * Math.PI : positive;
};
