/** The area that a cutter sweeps, by the general polygon library clipper2-ts (a port of Clipper2). Lengths mm. */
import {
  areaPathsD,
  booleanOpD,
  ClipType,
  EndType,
  FillRule,
  inflatePathsD,
  JoinType,
  type PathD,
  type PathsD,
} from 'clipper2-ts';
import type { TracedMove } from '../../server/src/core/features/trace.ts';
import { placesAlong, type RoundedRectangle } from './sweptArea.ts';

/** Greatest distance of a chord from its arc, mm. */
const CHORD = 0.002;
const DECIMALS = 4;

/** Union of the discs of a radius along moves. */
export const sweptBy = (moves: readonly TracedMove[], radius: number): PathsD => {
  const lines = moves.map((move): PathD => {
    const gap = move.arc === undefined ? Number.POSITIVE_INFINITY : Math.sqrt(8 * move.arc.radius * CHORD);
    return placesAlong(move, gap).map(([x, y]) => ({ x, y, z: 0 }));
  });
  return inflatePathsD(lines, radius, JoinType.Round, EndType.Round, 2, DECIMALS, CHORD);
};

/** The outline of a rectangle with rounded corners as a polygon. */
export const outlineOf = ({ centre, halfLength, halfWidth, corner, angle }: RoundedRectangle): PathsD => {
  const [length, width] = [halfLength - corner, halfWidth - corner];
  const turn = (angle * Math.PI) / 180;
  const path: PathD = [];
  for (const [i, [x, y]] of [
    [length, width],
    [-length, width],
    [-length, -width],
    [length, -width],
  ].entries()) {
    for (let step = 0; step <= 90; step++) {
      const at = ((i * 90 + step) * Math.PI) / 180;
      const [px, py] = [x + corner * Math.cos(at), y + corner * Math.sin(at)];
      path.push({
        x: centre[0] + px * Math.cos(turn) - py * Math.sin(turn),
        y: centre[1] + px * Math.sin(turn) + py * Math.cos(turn),
        z: 0,
      });
    }
  }
  return [path];
};

/** Area of a, and of what is in a and not in b; mm². */
export const areaOf = (a: PathsD): number => Math.abs(areaPathsD(a));
export const areaWithout = (a: PathsD, b: PathsD): number =>
  areaOf(booleanOpD(ClipType.Difference, a, b, FillRule.NonZero, DECIMALS) as PathsD);
