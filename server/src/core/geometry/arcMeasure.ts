/**
 * Lengths and extents of arcs and helices, exact and not of chords. Lengths mm, angles radians. An arc's radius may differ
 * at its end (within the tolerance of the control): it is blended linearly over the angle, so that the path ends where the
 * program says.
 */

/** An arc in its plane. Angles count counter-clockwise from the plane's first axis. */
export interface PlaneArc {
  readonly centreFirst: number;
  readonly centreSecond: number;
  readonly radius: number;
  readonly endRadius: number;
  readonly startAngle: number;
  /** Signed, counter-clockwise positive; more than a turn for a helix of several turns. */
  readonly sweep: number;
}

/** Smallest and largest coordinate in the plane. */
export interface PlaneExtents {
  readonly minFirst: number;
  readonly maxFirst: number;
  readonly minSecond: number;
  readonly maxSecond: number;
}

const QUARTER = Math.PI / 2;

/** The point at part `t` (0 to 1) of the arc: first and second coordinate. */
export function arcPoint(arc: PlaneArc, t: number): [number, number] {
  const radius = arc.radius + (arc.endRadius - arc.radius) * t;
  const angle = arc.startAngle + arc.sweep * t;
  return [arc.centreFirst + radius * Math.cos(angle), arc.centreSecond + radius * Math.sin(angle)];
}

/** Five-point Gauss–Legendre nodes and weights on −1 to 1 (Abramowitz and Stegun, table 25.4; from memory). */
const NODES = [0, 0.538469310105683, -0.538469310105683, 0.906179845938664, -0.906179845938664];
const WEIGHTS = [0.568888888888889, 0.478628670499366, 0.478628670499366, 0.236926885056189, 0.236926885056189];

/**
 * Length of an arc or helix in space. With one radius sqrt((r·θ)² + h²); with a blended radius the integral of
 * sqrt((θ·r(t))² + Δr² + h²), in closed form where the radii differ much and by Gauss's rule where they hardly differ.
 * @param rise way along the third axis, mm
 */
export function arcLength(radius: number, endRadius: number, sweep: number, rise: number): number {
  if (radius === endRadius) return Math.hypot(radius * sweep, rise);
  const growth = endRadius - radius;
  const along = Math.hypot(growth, rise);
  if (Math.abs(growth) > 0.01 * Math.max(radius, endRadius) && sweep !== 0) {
    const turn = Math.abs(sweep);
    const antiderivative = (u: number) => (u * Math.hypot(u, along) + along * along * Math.asinh(u / along)) / 2;
    return (antiderivative(turn * endRadius) - antiderivative(turn * radius)) / (turn * growth);
  }
  let sum = 0;
  for (let i = 0; i < NODES.length; i++) {
    const t = (1 + NODES[i]) / 2;
    sum += WEIGHTS[i] * Math.hypot(sweep * (radius + growth * t), along);
  }
  return sum / 2;
}

/**
 * The part `t` at which a coordinate turns near the angle `crossing`: there Δr·cos(δ) = θ·r(t)·sin(δ) with δ the angle
 * behind the crossing (the derivative of the coordinate is nought). Newton's rule, from the place for a radius as at the
 * crossing.
 */
function turningPart(arc: PlaneArc, crossing: number): number {
  const { radius, endRadius, startAngle, sweep } = arc;
  const growth = endRadius - radius;
  let t = (crossing - startAngle) / sweep;
  if (growth === 0) return t;
  t += Math.atan2(growth, Math.abs(sweep) * Math.max(0, radius + growth * t)) / Math.abs(sweep);
  for (let i = 0; i < 20; i++) {
    const delta = startAngle + sweep * t - crossing;
    const turning = sweep * (radius + growth * t);
    const value = growth * Math.cos(delta) - turning * Math.sin(delta);
    const slope = -2 * growth * sweep * Math.sin(delta) - sweep * turning * Math.cos(delta);
    const step = value / slope;
    t -= step;
    if (!(Math.abs(step) > 1e-15)) break;
  }
  return t;
}

/**
 * Exact extents of an arc: its ends and the places where a coordinate turns. The radius only grows or only shrinks, so
 * the first and the last turn hold every extreme, however many turns there are.
 */
export function arcExtents(arc: PlaneArc): PlaneExtents {
  const box = { minFirst: Infinity, maxFirst: -Infinity, minSecond: Infinity, maxSecond: -Infinity };
  const take = (t: number) => {
    if (!(t >= 0 && t <= 1)) return;
    const [first, second] = arcPoint(arc, t);
    box.minFirst = Math.min(box.minFirst, first);
    box.maxFirst = Math.max(box.maxFirst, first);
    box.minSecond = Math.min(box.minSecond, second);
    box.maxSecond = Math.max(box.maxSecond, second);
  };
  take(0);
  take(1);
  if (arc.sweep === 0 || !Number.isFinite(arc.sweep)) return box;
  const low = Math.min(arc.startAngle, arc.startAngle + arc.sweep);
  const high = Math.max(arc.startAngle, arc.startAngle + arc.sweep);
  // One quarter before and behind: a blended radius turns slightly beside the axis.
  const from = Math.floor(low / QUARTER) - 1;
  const to = Math.ceil(high / QUARTER) + 1;
  for (let quarter = from; quarter <= to; quarter++) {
    if (quarter === from + 7 && to - 7 > quarter) quarter = to - 7;
    take(turningPart(arc, quarter * QUARTER));
  }
  return box;
}
