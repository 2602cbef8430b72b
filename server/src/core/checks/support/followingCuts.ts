/** What a cutter does at its depth after it went straight down: where it went down against what it then cuts round. */
import { Mode } from '../../machine/modes.ts';
import { planeOf } from '../../machine/planes.ts';
import type { ProgramFacts } from '../facts.ts';
import type { PathPlace } from './pathWalk.ts';
import { pointsOf, windingAbout } from './wayPoints.ts';

/** Most moves looked at behind a plunge. */
const MOST_MOVES = 20_000;

/** `none`: up again at once; `inside`: what is cut goes round the place; `outside`: what is cut goes round something beside it; `open`: neither. */
export type Surroundings = 'none' | 'inside' | 'outside' | 'open';

/** How the cuts behind a plunge (a move straight down) lie about the place where it was made. */
export const surroundings = (plunge: PathPlace, { pool }: ProgramFacts): Surroundings => {
  const at = plunge.copy();
  const x = plunge.end(0);
  const y = plunge.end(1);
  const points: number[] = [x, y];
  for (let steps = 0; steps < MOST_MOVES && at.nextMotion(); steps++) {
    if (!at.cuts || (!at.sideways && at.rise !== 0)) break;
    if (at.mode(pool, Mode.tool) !== plunge.mode(pool, Mode.tool)) break;
    points.push(...pointsOf(at, planeOf(at.mode(pool, Mode.plane)).third === 2));
  }
  if (points.length < 4) return 'none';
  return judge(points, x, y);
};

/** Winding of the closed way about the place (sum of the angles), and its area by the trapezium rule against its box. */
const judge = (points: readonly number[], x: number, y: number): Surroundings => {
  let [minX, minY, maxX, maxY] = [x, y, x, y];
  let area = 0;
  for (let i = 0; i < points.length; i += 2) {
    const j = (i + 2) % points.length;
    minX = Math.min(minX, points[i]);
    maxX = Math.max(maxX, points[i]);
    minY = Math.min(minY, points[i + 1]);
    maxY = Math.max(maxY, points[i + 1]);
    area += (points[i] * points[j + 1] - points[j] * points[i + 1]) / 2;
  }
  const rim = 0.05;
  if (
    x > minX + rim &&
    x < maxX - rim &&
    y > minY + rim &&
    y < maxY - rim &&
    Math.abs(windingAbout(points, x, y)) > 1.5 * Math.PI
  ) {
    return 'inside';
  }
  const box = (maxX - minX) * (maxY - minY);
  return box > 0 && Math.abs(area) > 0.3 * box ? 'outside' : 'open';
};
