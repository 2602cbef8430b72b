/** The way of cuts seen from above as points, arcs as chords, and questions about it. Lengths mm. */
import { MoveKind } from '../../machine/moves.ts';
import { arcNumbers, type PathPlace } from './pathWalk.ts';

/** Chords of an arc. */
const CHORDS = 16;

/** The points of one move in X Y from its start to its end, without its start: x, y, x, y … */
export const pointsOf = (at: PathPlace, inPlan: boolean): number[] => {
  const points: number[] = [];
  if (at.kind === MoveKind.arc && inPlan) {
    const { moves } = at.segment;
    const numbers = arcNumbers(moves, at.move);
    const [centreX, centreY, radius, endRadius, sweep] = moves.extras.subarray(numbers, numbers + 5);
    const angle = Math.atan2(at.start(1) - centreY, at.start(0) - centreX);
    for (let chord = 1; chord < CHORDS; chord++) {
      const t = chord / CHORDS;
      const away = radius + (endRadius - radius) * t;
      points.push(centreX + away * Math.cos(angle + sweep * t), centreY + away * Math.sin(angle + sweep * t));
    }
  }
  points.push(at.end(0), at.end(1));
  return points;
};

/** How often the closed way through the points turns about a place, in radians (sum of the angles). */
export const windingAbout = (points: readonly number[], x: number, y: number): number => {
  let sum = 0;
  let last = Number.NaN;
  for (let i = 0; i <= points.length; i += 2) {
    const dx = points[i % points.length] - x;
    const dy = points[(i % points.length) + 1] - y;
    if (Math.hypot(dx, dy) < 1e-6) continue;
    const angle = Math.atan2(dy, dx);
    if (!Number.isNaN(last)) {
      const turn = angle - last;
      sum += turn - 2 * Math.PI * Math.round(turn / (2 * Math.PI));
    }
    last = angle;
  }
  return sum;
};

/** True if the straight way from (x, y) to (endX, endY) crosses the open way through the points, at least `rim` behind its start. */
export const crossesWay = (
  points: readonly number[],
  x: number,
  y: number,
  endX: number,
  endY: number,
  rim: number,
): boolean => {
  const dx = endX - x;
  const dy = endY - y;
  const length = Math.hypot(dx, dy);
  for (let i = 0; i + 3 < points.length; i += 2) {
    const ex = points[i + 2] - points[i];
    const ey = points[i + 3] - points[i + 1];
    const cross = dx * ey - dy * ex;
    if (Math.abs(cross) < 1e-12) continue;
    const ox = points[i] - x;
    const oy = points[i + 1] - y;
    const t = (ox * ey - oy * ex) / cross;
    const u = (ox * dy - oy * dx) / cross;
    if (u >= 0 && u <= 1 && t * length > rim && t < 1 - rim / length) return true;
  }
  return false;
};
