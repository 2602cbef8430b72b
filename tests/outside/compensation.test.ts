// Cutter radius compensation against polygon offsetting by clipper2-ts (a general polygon library, port of Clipper2):
// 200 seeded random closed contours of lines and arcs, cutter outside and inside. Inside radii are larger than the
// cutter, and edges are so long against it that the offset cannot meet itself elsewhere.
import { EndType, inflatePathsD, JoinType, type PathD } from 'clipper2-ts';
import { describe, expect, test } from 'vitest';
import { Analysis } from '../../server/src/core/checks/analysis.ts';
import {
  type CentreArc,
  type CentreSink,
  type CompensationFault,
  Compensator,
} from '../../server/src/core/geometry/compensation/compensator.ts';
import type { ContourMove, Side } from '../../server/src/core/geometry/compensation/element.ts';
import { DEFAULT_CONFIGURATION } from '../../server/src/core/machine/configuration.ts';
import { EXTRA_WIDTH, MoveFlag, MoveKind } from '../../server/src/core/machine/moves.ts';
import { type Plane, planeOf } from '../../server/src/core/machine/planes.ts';
import { seeded } from '../bench/program.ts';

/** Greatest distance of a chord from its arc, mm. */
const CHORD = 0.0005;
/** Greatest area error over the perimeter, and greatest distance of one outline from the other, mm. */
const ALLOWED = 0.002;

type Point = [number, number];

/** An edge of a contour to `end`; `sweep` 0 is a line. */
interface Edge {
  readonly end: Point;
  readonly centre: Point;
  readonly sweep: number;
}

const apart = (a: Point, b: Point): number => Math.hypot(b[0] - a[0], b[1] - a[1]);

const lineTo = (end: Point): Edge => ({ end, centre: [0, 0], sweep: 0 });

/** An arc from `start` to `end` that turns by `sweep`. */
const arcTo = (start: Point, end: Point, sweep: number): Edge => {
  const height = 1 / (2 * Math.tan(sweep / 2));
  const centre: Point = [
    (start[0] + end[0]) / 2 - (end[1] - start[1]) * height,
    (start[1] + end[1]) / 2 + (end[0] - start[0]) * height,
  ];
  return { end, centre, sweep };
};

/** A counter-clockwise contour about the origin; its first edge begins in the middle of a line. */
interface Contour {
  readonly start: Point;
  readonly edges: readonly Edge[];
  readonly radius: number;
}

/** Cuts a corner off by a tangent arc of radius `radius`; gives the places where it begins and ends and its sweep. */
const fillet = (
  before: Point,
  corner: Point,
  behind: Point,
  radius: number,
): { from: Point; to: Point; sweep: number } => {
  const a: Point = [(corner[0] - before[0]) / apart(before, corner), (corner[1] - before[1]) / apart(before, corner)];
  const b: Point = [(behind[0] - corner[0]) / apart(corner, behind), (behind[1] - corner[1]) / apart(corner, behind)];
  const sweep = Math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]);
  const cut = radius * Math.abs(Math.tan(sweep / 2));
  return {
    from: [corner[0] - cut * a[0], corner[1] - cut * a[1]],
    to: [corner[0] + cut * b[0], corner[1] + cut * b[1]],
    sweep,
  };
};

/** A random contour: a star-like polygon with bulged edges and corners rounded by tangent arcs. */
const randomContour = (seed: number): Contour => {
  const random = seeded(seed);
  const radius = 0.5 + random() * 2.5;
  const count = 5 + Math.floor(random() * 5);
  const corners = Array.from({ length: count }, (_, i): Point => {
    const angle = ((i + (random() - 0.5) * 0.3) * 2 * Math.PI) / count;
    const size = 40 + random() * 30;
    return [size * Math.cos(angle), size * Math.sin(angle)];
  });
  const last = corners[count - 1];
  const start: Point = [(last[0] + corners[0][0]) / 2, (last[1] + corners[0][1]) / 2];
  const edges: Edge[] = [];
  let at = start;
  corners.forEach((corner, i) => {
    const isThere = at === corner;
    const isBulged = i < count - 1 && random() < 0.4;
    if (!isBulged && !isThere && random() < 0.5) {
      const next = i < count - 1 ? corners[i + 1] : start;
      const { from, to, sweep } = fillet(at, corner, next, radius * (1.02 + random() * 1.5));
      edges.push(lineTo(from), arcTo(from, to, sweep));
      at = to;
    } else if (!isThere) {
      edges.push(lineTo(corner));
      at = corner;
    }
    if (!isBulged) return;
    const bulge = (random() - 0.5) * 1.4;
    const end = corners[i + 1];
    edges.push(Math.abs(bulge) < 0.02 ? lineTo(end) : arcTo(at, end, bulge));
    at = end;
  });
  edges.push(lineTo(start));
  return { start, edges, radius };
};

/** Adds an arc's chords to an outline, its start left out. */
const addChords = (outline: PathD, start: Point, centre: Point, end: Point, sweep: number): void => {
  const radius = apart(centre, start);
  const step = 2 * Math.acos(1 - CHORD / Math.max(radius, 2 * CHORD));
  const count = Math.max(1, Math.ceil(Math.abs(sweep) / step));
  const from = Math.atan2(start[1] - centre[1], start[0] - centre[0]);
  for (let i = 1; i < count; i++) {
    const angle = from + (sweep * i) / count;
    outline.push({ x: centre[0] + radius * Math.cos(angle), y: centre[1] + radius * Math.sin(angle) });
  }
  outline.push({ x: end[0], y: end[1] });
};

const outlineOf = ({ start, edges }: Contour): PathD => {
  const outline: PathD = [];
  let at = start;
  for (const { end, centre, sweep } of edges) {
    if (sweep === 0) outline.push({ x: end[0], y: end[1] });
    else addChords(outline, at, centre, end, sweep);
    at = end;
  }
  return outline;
};

/** The centre's path as an outline, the way in left out. */
class Centre implements CentreSink {
  readonly outline: PathD = [];
  readonly faults: CompensationFault[] = [];
  private at: Point = [0, 0];

  line(first: number, second: number): void {
    this.at = [first, second];
    this.outline.push({ x: first, y: second });
  }

  arc({ endFirst, endSecond, centreFirst, centreSecond, sweep }: CentreArc): void {
    const end: Point = [endFirst, endSecond];
    addChords(this.outline, this.at, [centreFirst, centreSecond], end, sweep);
    this.at = end;
  }

  standing(): void {}

  fault(fault: CompensationFault): void {
    this.faults.push(fault);
  }
}

const moveOf = (start: Point, { end, centre, sweep }: Edge): ContourMove => ({
  source: { line: 0, kind: 1, modes: 0 },
  isRapid: false,
  isArc: sweep !== 0,
  startFirst: start[0],
  startSecond: start[1],
  startThird: 0,
  endFirst: end[0],
  endSecond: end[1],
  endThird: 0,
  centreFirst: centre[0],
  centreSecond: centre[1],
  radius: sweep === 0 ? 0 : apart(centre, start),
  endRadius: sweep === 0 ? 0 : apart(centre, end),
  sweep,
  others: [],
});

/** Runs the cutter round a contour that is entered far off, in the plane as it is or seen from behind (axes exchanged). */
const centrePath = ({ start, edges, radius }: Contour, side: Side, exchanged: boolean): Centre => {
  const turned = ([first, second]: Point): Point => (exchanged ? [second, first] : [first, second]);
  const centre = new Centre();
  const compensator = new Compensator('arc', centre);
  const own = exchanged ? (-side as Side) : side;
  compensator.take(moveOf([500, 500], lineTo(turned(start))), own, radius);
  let at = start;
  for (const edge of edges) {
    const { end, sweep } = edge;
    const turnedEdge = { end: turned(end), centre: turned(edge.centre), sweep: exchanged ? -sweep : sweep };
    compensator.take(moveOf(turned(at), turnedEdge), own, radius);
    at = end;
  }
  compensator.finish();
  if (!exchanged) return centre;
  for (const place of centre.outline) [place.x, place.y] = [place.y, place.x];
  return centre;
};

const areaOf = (path: PathD): number =>
  path.reduce((sum, { x, y }, i) => {
    const next = path[(i + 1) % path.length];
    return sum + (x * next.y - next.x * y) / 2;
  }, 0);

const perimeterOf = (path: PathD): number =>
  path.reduce((sum, { x, y }, i) => {
    const next = path[(i + 1) % path.length];
    return sum + Math.hypot(next.x - x, next.y - y);
  }, 0);

/** Greatest distance of a corner of `path` from the outline `other`. */
const farthest = (path: PathD, other: PathD): number => {
  let most = 0;
  for (const { x, y } of path) {
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < other.length; i++) {
      const a = other[i];
      const b = other[(i + 1) % other.length];
      const alongX = b.x - a.x;
      const alongY = b.y - a.y;
      const square = alongX * alongX + alongY * alongY;
      const part = square === 0 ? 0 : Math.max(0, Math.min(1, ((x - a.x) * alongX + (y - a.y) * alongY) / square));
      const dx = a.x + part * alongX - x;
      const dy = a.y + part * alongY - y;
      const distance = dx * dx + dy * dy;
      if (distance < least) least = distance;
    }
    if (least > most) most = least;
  }
  return Math.sqrt(most);
};

/** Area error over the perimeter, and the distance of the outlines from each other (Hausdorff), both mm. */
const errorsOf = (contour: Contour, side: Side, exchanged: boolean): { area: number; distance: number } => {
  const centre = centrePath(contour, side, exchanged);
  expect(centre.faults).toEqual([]);
  // The contour runs counter-clockwise: its left side is inside.
  const offset = inflatePathsD(
    [outlineOf(contour)],
    -side * contour.radius,
    JoinType.Round,
    EndType.Polygon,
    2,
    6,
    CHORD,
  );
  expect(offset.length).toBe(1);
  return {
    area: Math.abs(areaOf(centre.outline) - areaOf(offset[0])) / perimeterOf(offset[0]),
    distance: Math.max(farthest(centre.outline, offset[0]), farthest(offset[0], centre.outline)),
  };
};

describe('the centre path of random contours is the offset polygon of clipper2-ts', () => {
  for (let ten = 0; ten < 20; ten++) {
    test(`contours ${ten * 10 + 1} to ${ten * 10 + 10}, both sides`, () => {
      for (let seed = ten * 10 + 1; seed <= ten * 10 + 10; seed++) {
        const contour = randomContour(seed);
        for (const side of [1, -1] as const) {
          const { area, distance } = errorsOf(contour, side, seed % 3 === 0);
          expect(area, `contour ${seed}, side ${side}: area error over perimeter`).toBeLessThanOrEqual(ALLOWED);
          expect(distance, `contour ${seed}, side ${side}: distance`).toBeLessThanOrEqual(ALLOWED);
        }
      }
    });
  }

  test('the comparison sees a cutter that is 0.003 mm too large', () => {
    const contour = randomContour(7);
    const wrong = centrePath({ ...contour, radius: contour.radius + 0.003 }, 1, false);
    const offset = inflatePathsD([outlineOf(contour)], -contour.radius, JoinType.Round, EndType.Polygon, 2, 6, CHORD);
    expect(farthest(wrong.outline, offset[0])).toBeGreaterThan(ALLOWED);
  });
});

/** Words of a place in a plane: its two axes' letters, six decimals. */
const wordsOf = ([first, second]: Point, [firstLetter, secondLetter]: string): string =>
  `${firstLetter}${first.toFixed(6)} ${secondLetter}${second.toFixed(6)}`;

/** The contour as a program in a plane, entered far off, with D1 from the tool table. */
const programOf = ({ start, edges }: Contour, side: Side, plane: Plane): string => {
  const axes = 'XYZ'[plane.first] + 'XYZ'[plane.second];
  const centres = 'IJK'[plane.first] + 'IJK'[plane.second];
  const lines = [`G${plane.code} G21 G90 G40`, 'G0 X500. Y500. Z500.'];
  lines.push(`G1 ${side === 1 ? 'G41' : 'G42'} D1 ${wordsOf(start, axes)} F500`);
  let at = start;
  for (const { end, centre, sweep } of edges) {
    const toCentre: Point = [centre[0] - at[0], centre[1] - at[1]];
    if (sweep === 0) lines.push(`G1 ${wordsOf(end, axes)}`);
    else lines.push(`${sweep > 0 ? 'G3' : 'G2'} ${wordsOf(end, axes)} ${wordsOf(toCentre, centres)}`);
    at = end;
  }
  return [...lines, 'M30'].join('\n');
};

/** The outline that the moves of a program give in its plane, the way in left out. */
const tracedOutline = (program: string, radius: number, plane: Plane): PathD => {
  const tools = [{ number: 1, kind: 'end-mill', diameter: 2 * radius }] as const;
  const analysis = new Analysis(program, { ...DEFAULT_CONFIGURATION, tools });
  analysis.run();
  expect(analysis.findings().findings.filter(({ severity }) => severity === 'error')).toEqual([]);
  const centre = new Centre();
  for (const { segment } of analysis.passages()) {
    const { moves } = segment;
    for (let i = 1; i < moves.count; i++) {
      const endFirst = moves.ends[i * 3 + plane.first];
      const endSecond = moves.ends[i * 3 + plane.second];
      if ((moves.kinds[i] & MoveFlag.kindMask) !== MoveKind.arc) centre.line(endFirst, endSecond);
      else {
        const at = moves.firstExtra(i) * EXTRA_WIDTH;
        const [centreFirst, centreSecond, arcRadius, endRadius, sweep] = moves.extras.subarray(at, at + EXTRA_WIDTH);
        centre.arc({
          endFirst,
          endSecond,
          endThird: 0,
          centreFirst,
          centreSecond,
          radius: arcRadius,
          endRadius,
          sweep,
        });
      }
    }
  }
  return centre.outline;
};

describe('the same as programs, in all planes', () => {
  for (const code of [17, 18, 19]) {
    test(`G${code}, both sides`, () => {
      const plane = planeOf(code);
      for (let seed = 1; seed <= 20; seed++) {
        const contour = randomContour(seed);
        for (const side of [1, -1] as const) {
          const outline = tracedOutline(programOf(contour, side, plane), contour.radius, plane);
          const delta = -side * contour.radius;
          const offset = inflatePathsD([outlineOf(contour)], delta, JoinType.Round, EndType.Polygon, 2, 6, CHORD);
          const area = Math.abs(areaOf(outline) - areaOf(offset[0])) / perimeterOf(offset[0]);
          expect(area, `contour ${seed}, side ${side}: area error over perimeter`).toBeLessThanOrEqual(ALLOWED);
          const distance = Math.max(farthest(outline, offset[0]), farthest(offset[0], outline));
          expect(distance, `contour ${seed}, side ${side}: distance`).toBeLessThanOrEqual(ALLOWED);
        }
      }
    });
  }
});

describe('the random contours', () => {
  test('have every kind of joint on either side', () => {
    const kinds = new Set<string>();
    for (let seed = 1; seed <= 200; seed++) {
      const { edges, start } = randomContour(seed);
      let before = moveOf([0, 0], lineTo(start));
      edges.forEach((edge, i) => {
        const move = moveOf(i === 0 ? start : edges[i - 1].end, edge);
        if (i > 0) kinds.add(`${before.isArc ? 'arc' : 'line'}-${move.isArc ? 'arc' : 'line'} ${turnOf(before, move)}`);
        before = move;
      });
    }
    for (const pair of ['line-line', 'line-arc', 'arc-line', 'arc-arc']) {
      expect(kinds).toContain(`${pair} left`);
      expect(kinds).toContain(`${pair} right`);
    }
    expect(kinds).toContain('line-arc tangent');
    expect(kinds).toContain('arc-line tangent');
  });
});

const tangentOf = (move: ContourMove, atEnd: boolean): Point => {
  if (!move.isArc) return [move.endFirst - move.startFirst, move.endSecond - move.startSecond];
  const first = (atEnd ? move.endFirst : move.startFirst) - move.centreFirst;
  const second = (atEnd ? move.endSecond : move.startSecond) - move.centreSecond;
  return move.sweep > 0 ? [-second, first] : [second, -first];
};

const turnOf = (before: ContourMove, behind: ContourMove): string => {
  const a = tangentOf(before, true);
  const b = tangentOf(behind, false);
  const sine = (a[0] * b[1] - a[1] * b[0]) / (Math.hypot(...a) * Math.hypot(...b));
  return Math.abs(sine) < 1e-6 ? 'tangent' : sine > 0 ? 'left' : 'right';
};
