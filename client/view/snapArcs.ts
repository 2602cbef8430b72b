// Arcs found again among the vertices of a piece. An arc travels as chords of equal length that turn by equal angles, with
// its ends and corners lying on it exactly, so its centre can be computed and its inner corners are no ends of a move.
import { BEGINS_AGAIN, type PackedPath, PathStyle, STYLE_MASK } from '../../server/src/core/geometry/packedLayout.ts';

/** The arcs of a piece. */
export interface PieceArcs {
  /** 1 for a vertex inside an arc, where no move ends. */
  readonly inside: Uint8Array;
  /** X Y Z of the centres, mm, counted from the piece's origin; along the arc's axis at the height of its start. */
  readonly centres: Float64Array;
  /** The vertex at which the arc of each centre ends. */
  readonly ends: Uint32Array;
}

/** A chord spans no more than an eighth of a turn (`pathMoves.ts`), and a little for the short numbers. */
const GREATEST_TURN = Math.PI / 4 + 0.01;
const PLANES = [
  [0, 1],
  [2, 0],
  [1, 2],
] as const;

type Plane = (typeof PLANES)[number];

/** A chord turned into the next one: both lengths and the angle between them, in one plane. */
interface Turn {
  readonly first: number;
  readonly second: number;
  readonly angle: number;
}

/** Finds the arcs of a piece. */
export function arcsOf(path: PackedPath): PieceArcs {
  const { codes, vertexCount } = path;
  const inside = new Uint8Array(vertexCount);
  const centres: number[] = [];
  const ends: number[] = [];
  let from = 0;
  while (from < vertexCount - 2) {
    const style = codes[from + 1] & STYLE_MASK;
    const curved = style === PathStyle.arc || style === PathStyle.helix || style === PathStyle.cut;
    const arc = curved && isSameBlock(codes, from + 1, from + 2) ? arcFrom(path, from) : undefined;
    if (!arc) {
      from++;
      continue;
    }
    inside.fill(1, from + 1, arc.end);
    centres.push(...arc.centre);
    ends.push(arc.end);
    from = arc.end;
  }
  return { inside, centres: Float64Array.from(centres), ends: Uint32Array.from(ends) };
}

/** True if a later way goes on with the block and the style of one; its block may begin there. */
const isSameBlock = (codes: Uint32Array, first: number, later: number): boolean =>
  codes[later] === (codes[first] & ~BEGINS_AGAIN) >>> 0;

/** The arc that starts at a vertex, if one does. */
function arcFrom(
  path: PackedPath,
  from: number,
): { readonly end: number; readonly centre: readonly number[] } | undefined {
  for (const plane of PLANES) {
    const end = lastOfArc(path, from, plane);
    if (end > from + 1) {
      return { end, centre: centreOf(path, from, end, plane) };
    }
  }
  return undefined;
}

/** The last vertex that lies on the arc of the first three; the first one if these make none. */
function lastOfArc(path: PackedPath, from: number, plane: Plane): number {
  const { codes, vertexCount } = path;
  const start = turnAt(path, from, plane);
  if (!fits(path, from, start, start)) {
    return from;
  }
  let end = from + 2;
  while (end + 1 < vertexCount && isSameBlock(codes, from + 1, end + 1)) {
    if (!fits(path, end - 1, turnAt(path, end - 1, plane), start)) {
      break;
    }
    end++;
  }
  return end;
}

/** The turn between the two chords behind a vertex, as seen in a plane. */
function turnAt({ positions }: PackedPath, vertex: number, [i, j]: Plane): Turn {
  const at = 3 * vertex;
  const [ax, ay] = [positions[at + 3 + i] - positions[at + i], positions[at + 3 + j] - positions[at + j]];
  const [bx, by] = [positions[at + 6 + i] - positions[at + 3 + i], positions[at + 6 + j] - positions[at + 3 + j]];
  const angle = Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
  return { first: Math.hypot(ax, ay), second: Math.hypot(bx, by), angle };
}

/** True if a turn goes on as an arc does: chords of one length, angles of one size, as far as short numbers tell. */
function fits({ positions }: PackedPath, vertex: number, turn: Turn, start: Turn): boolean {
  const at = 3 * vertex;
  let greatest = 1;
  for (let k = 0; k < 9; k++) {
    greatest = Math.max(greatest, Math.abs(positions[at + k]));
  }
  // A Float32 has 24 bits; the ends of a chord may be wrong by half a bit each, and its radius may change a little.
  const blur = greatest * 2 ** -22;
  const even = Math.abs(turn.first - turn.second) <= 2 * blur + 0.002 * turn.first;
  const same = Math.abs(turn.first - start.first) <= 2 * blur + 0.01 * start.first;
  const bend = (4 * blur) / Math.min(turn.first, turn.second) + 0.01 * Math.abs(start.angle);
  const turns = Math.abs(turn.angle) > 1e-4 && Math.abs(turn.angle) < GREATEST_TURN;
  return even && same && turns && Math.abs(turn.angle - start.angle) <= bend;
}

/** The centre of the circle through the first, a middle and the last vertex; of a whole turn through thirds of it. */
function centreOf(path: PackedPath, from: number, end: number, plane: Plane): [number, number, number] {
  const [i, j] = plane;
  const { positions } = path;
  // Three vertices far from each other, however many turns there are.
  const turn = Math.abs(turnAt(path, from, plane).angle);
  const last = Math.min(end - from, Math.max(2, Math.round(((4 / 3) * Math.PI) / turn)));
  const [p, q, r] = [from, from + (last >> 1), from + last].map((vertex) => [
    positions[3 * vertex + i],
    positions[3 * vertex + j],
  ]);
  const [bx, by, cx, cy] = [q[0] - p[0], q[1] - p[1], r[0] - p[0], r[1] - p[1]];
  const double = 2 * (bx * cy - by * cx);
  const [bb, cc] = [bx * bx + by * by, cx * cx + cy * cy];
  const centre: [number, number, number] = [positions[3 * from], positions[3 * from + 1], positions[3 * from + 2]];
  centre[i] = p[0] + (cy * bb - by * cc) / double;
  centre[j] = p[1] + (bx * cc - cx * bb) / double;
  return centre;
}
