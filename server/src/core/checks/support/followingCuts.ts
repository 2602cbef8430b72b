/** What a cutter does at its depth after it went straight down: where it went down against what it then cuts round. */
import { Mode } from '../../machine/modes.ts';
import { MoveKind } from '../../machine/moves.ts';
import { planeOf } from '../../machine/planes.ts';
import type { ProgramFacts } from '../facts.ts';
import { arcNumbers, type PathPlace } from './pathWalk.ts';

/** Most moves looked at behind a plunge. */
const MOST_MOVES = 20_000;
/** Chords of an arc. */
const CHORDS = 16;

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
    takeWay(points, at, planeOf(at.mode(pool, Mode.plane)).third === 2);
  }
  if (points.length < 4) return 'none';
  return judge(points, x, y);
};

const takeWay = (points: number[], at: PathPlace, inPlan: boolean): void => {
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
  if (x > minX + rim && x < maxX - rim && y > minY + rim && y < maxY - rim && isWoundAbout(points, x, y)) {
    return 'inside';
  }
  const box = (maxX - minX) * (maxY - minY);
  return box > 0 && Math.abs(area) > 0.3 * box ? 'outside' : 'open';
};

/** True if the way goes at least three quarters of a turn about the place. */
const isWoundAbout = (points: readonly number[], x: number, y: number): boolean => {
  let sum = 0;
  let last = Number.NaN;
  for (let i = 0; i < points.length; i += 2) {
    const dx = points[i] - x;
    const dy = points[i + 1] - y;
    if (Math.hypot(dx, dy) < 1e-6) continue;
    const angle = Math.atan2(dy, dx);
    if (!Number.isNaN(last)) {
      const turn = angle - last;
      sum += turn - 2 * Math.PI * Math.round(turn / (2 * Math.PI));
    }
    last = angle;
  }
  return Math.abs(sum) > 1.5 * Math.PI;
};
