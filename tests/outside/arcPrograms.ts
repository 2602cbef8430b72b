/**
 * Right programs with arcs, made at random from a seed, and a small reading of arcs in any simple program. Imports nothing of
 * the product: what is right here is right by construction (points are rounded first, centres are worked out from them).
 */

/** Random numbers from a seed (mulberry32, public domain; from memory). */
export type Random = () => number;

export const randomFrom = (seed: number): Random => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
};

const between = (random: Random, low: number, high: number): number => low + (high - low) * random();
export const oneOf = <T>(random: Random, from: readonly T[]): T => from[Math.floor(random() * from.length)];

/** Axes and centre letters of a plane: first, second, normal. */
export const PLANES: Readonly<Record<number, { axes: string; centres: string }>> = {
  17: { axes: 'XYZ', centres: 'IJK' },
  18: { axes: 'ZXY', centres: 'KIJ' },
  19: { axes: 'YZX', centres: 'JKI' },
};

type Point = [number, number];

/** A move in a plane: to a point, straight or about a centre. */
interface PlaneMove {
  readonly to: Point;
  readonly arc?: { readonly centre: Point; readonly clockwise: boolean };
  /** Way along the normal. */
  readonly rise?: number;
}

/** How a program is written. */
interface Manner {
  readonly plane: number;
  readonly inch: boolean;
  readonly incremental: boolean;
  readonly absoluteCentres: boolean;
  readonly byRadius: boolean;
  readonly writing: 'point' | 'filled' | 'whole';
  readonly lowerCase: boolean;
  readonly spaces: boolean;
  readonly numbered: boolean;
}

const mannerFrom = (random: Random): Manner => ({
  plane: oneOf(random, [17, 17, 18, 19]),
  inch: random() < 0.3,
  incremental: random() < 0.2,
  absoluteCentres: random() < 0.2,
  byRadius: random() < 0.35,
  writing: oneOf(random, ['point', 'filled', 'whole'] as const),
  lowerCase: random() < 0.15,
  spaces: random() < 0.85,
  numbered: random() < 0.3,
});

const round = (value: number, places: number): number => Number(value.toFixed(places)) + 0;

const numberText = (value: number, places: number, writing: Manner['writing']): string => {
  if (writing === 'filled') return round(value, places).toFixed(places);
  const text = round(value, places).toFixed(places).replace(/0+$/, '');
  return writing === 'whole' ? text.replace(/\.$/, '') : text;
};

/** A closed contour with rounded corners: a polygon, its corners turned into arcs that join smoothly. */
const roundedContour = (random: Random, size: number, grid: number): PlaneMove[] => {
  const corners = 3 + Math.floor(random() * 4);
  const turnedBy = random() < 0.4 ? 0 : random() * 2 * Math.PI;
  const isBox = random() < 0.5;
  const snap = (value: number) => Math.round(value / grid) * grid;
  const points: Point[] = isBox
    ? (
        [
          [0, 0],
          [1, 0],
          [1, 0.6],
          [0, 0.6],
        ] as Point[]
      ).map(([a, b]) => [snap(a * size), snap(b * size)])
    : Array.from({ length: corners }, (_, k) => {
        const angle = turnedBy + (2 * Math.PI * k) / corners;
        const reach = size * between(random, 0.5, 0.75);
        return [snap(reach * Math.cos(angle)), snap(reach * Math.sin(angle))];
      });
  if (random() < 0.5) points.reverse();
  return roundOff(random, points, size, grid);
};

/** Corners of a closed polygon turned into arcs. */
const roundOff = (random: Random, points: readonly Point[], size: number, grid: number): PlaneMove[] => {
  const moves: PlaneMove[] = [];
  for (let k = 0; k < points.length; k++) {
    const at = points[k];
    const from = points[(k + points.length - 1) % points.length];
    const to = points[(k + 1) % points.length];
    const [inLength, outLength] = [
      Math.hypot(at[0] - from[0], at[1] - from[1]),
      Math.hypot(to[0] - at[0], to[1] - at[1]),
    ];
    const into: Point = [(at[0] - from[0]) / inLength, (at[1] - from[1]) / inLength];
    const out: Point = [(to[0] - at[0]) / outLength, (to[1] - at[1]) / outLength];
    const cross = into[0] * out[1] - into[1] * out[0];
    const turn = Math.atan2(cross, into[0] * out[0] + into[1] * out[1]);
    const radius = Math.max(grid, Math.round((size * between(random, 0.04, 0.15)) / grid) * grid);
    const back = radius * Math.tan(Math.abs(turn) / 2);
    if (Math.abs(turn) < 0.1 || back > 0.45 * Math.min(inLength, outLength)) {
      moves.push({ to: at });
      continue;
    }
    const side = Math.sign(turn);
    const start: Point = [at[0] - into[0] * back, at[1] - into[1] * back];
    const centre: Point = [start[0] - into[1] * radius * side, start[1] + into[0] * radius * side];
    moves.push(
      { to: start },
      { to: [at[0] + out[0] * back, at[1] + out[1] * back], arc: { centre, clockwise: side < 0 } },
    );
  }
  return moves;
};

/** Arcs that meet in corners: scallops along a line, each over a chord. */
const scallops = (random: Random, size: number, grid: number): PlaneMove[] => {
  const moves: PlaneMove[] = [{ to: [0, 0] }];
  const chord = Math.max(2 * grid, Math.round(size / 4 / grid) * grid);
  const clockwise = random() < 0.5;
  for (let k = 1; k <= 4; k++) {
    const half = chord / 2;
    const height = random() < 0.4 ? 0 : half * between(random, 0.2, 1.2);
    const middle = chord * (k - 0.5);
    moves.push({ to: [chord * k, 0], arc: { centre: [middle, clockwise ? -height : height], clockwise } });
  }
  moves.push({ to: [chord * 4, -size / 2] });
  return moves;
};

/** A slot of two half circles. */
const slot = (random: Random, size: number, grid: number): PlaneMove[] => {
  const radius = Math.max(grid, Math.round(size / 8 / grid) * grid);
  const long = Math.round(size / 2 / grid) * grid;
  const moves: PlaneMove[] = [
    { to: [0, -radius] },
    { to: [long, -radius] },
    { to: [long, radius], arc: { centre: [long, 0], clockwise: false } },
    { to: [0, radius] },
    { to: [0, -radius], arc: { centre: [0, 0], clockwise: false } },
  ];
  return random() < 0.5 ? moves : moves.map(mirrored);
};

const mirrored = ({ to, arc, ...rest }: PlaneMove): PlaneMove => ({
  ...rest,
  to: [to[0], -to[1]],
  ...(arc && { arc: { centre: [arc.centre[0], -arc.centre[1]], clockwise: !arc.clockwise } }),
});

/** A bore: an arc out to the wall, down in a helix of half turns, an arc back. */
const bore = (random: Random, size: number, grid: number): PlaneMove[] => {
  const radius = Math.max(2 * grid, Math.round(size / 5 / grid) * grid);
  const half = radius / 2;
  const clockwise = random() < 0.5;
  const moves: PlaneMove[] = [{ to: [0, 0] }, { to: [radius, 0], arc: { centre: [half, 0], clockwise } }];
  for (let k = 0; k < 4; k++) {
    const to: Point = [k % 2 === 0 ? -radius : radius, 0];
    moves.push({ to, arc: { centre: [0, 0], clockwise }, rise: -size / 80 });
  }
  moves.push({ to: [0, 0], arc: { centre: [half, 0], clockwise } });
  return moves;
};

const SHAPES = [roundedContour, roundedContour, scallops, slot, bore];

/** A right program of one to three contours. */
export const makeProgram = (random: Random): string => {
  const lines: string[] = [];
  const count = 1 + Math.floor(random() * 3);
  const inch = random() < 0.3;
  for (let k = 0; k < count; k++) lines.push(...contourLines(random, { ...mannerFrom(random), inch }, k === 0));
  return `${[...lines, 'G90', 'M30'].join('\n')}\n`;
};

const contourLines = (random: Random, manner: Manner, first: boolean): string[] => {
  const { plane, inch, incremental, absoluteCentres } = manner;
  const places = inch ? 4 : 3;
  const size = inch ? oneOf(random, [1.5, 3, 5]) : oneOf(random, [30, 60, 120]);
  const grid = inch ? 0.0625 : 0.5;
  const shift: Point = [round(between(random, -size, size), 1), round(between(random, -size, size), 1)];
  const moves = oneOf(random, SHAPES)(random, size, grid).map((move) => shifted(move, shift));
  const writer = new Writer(manner, places);
  const head = `G${plane} G${inch ? 20 : 21} G90 ${absoluteCentres ? 'G90.1' : 'G91.1'}`;
  const lines = [manner.lowerCase ? head.toLowerCase() : head];
  if (first && random() < 0.5) lines.push('(RIGHT BY CONSTRUCTION)');
  const clear = inch ? 0.5 : 10;
  const depth = -round(size / 20, 1);
  lines.push(writer.rapid(moves[0].to, clear));
  lines.push(writer.straight('G1', undefined, depth, inch ? 'F8.' : 'F200.'));
  if (incremental) lines.push(manner.lowerCase ? 'g91' : 'G91');
  let level = depth;
  for (const move of moves.slice(1)) {
    level = round(level + (move.rise ?? 0), places);
    lines.push(writer.move(move, level, incremental));
  }
  if (incremental) lines.push(manner.lowerCase ? 'g90' : 'G90');
  lines.push(writer.straight('G0', undefined, clear, ''));
  return lines;
};

const shifted = ({ to, arc, ...rest }: PlaneMove, by: Point): PlaneMove => ({
  ...rest,
  to: [to[0] + by[0], to[1] + by[1]],
  ...(arc && { arc: { clockwise: arc.clockwise, centre: [arc.centre[0] + by[0], arc.centre[1] + by[1]] } }),
});

/** Writes moves as blocks; the points it stands at are those written, not those meant. */
class Writer {
  private at: Point = [0, 0];
  private level = 0;
  private line = 0;
  private readonly manner: Manner;
  private readonly places: number;
  private readonly axes: string;
  private readonly centres: string;

  constructor(manner: Manner, places: number) {
    this.manner = manner;
    this.places = places;
    this.axes = PLANES[manner.plane].axes;
    this.centres = PLANES[manner.plane].centres;
  }

  rapid(to: Point, level: number): string {
    this.at = [round(to[0], this.places), round(to[1], this.places)];
    this.level = level;
    return this.block([
      'G0',
      this.word(this.axes[0], this.at[0]),
      this.word(this.axes[1], this.at[1]),
      this.word(this.axes[2], level),
    ]);
  }

  straight(code: string, to: Point | undefined, level: number, feed: string): string {
    this.level = level;
    if (to !== undefined) this.at = to;
    return this.block([code, this.word(this.axes[2], level), feed]);
  }

  move({ to, arc }: PlaneMove, level: number, incremental: boolean): string {
    const { places, at, axes } = this;
    const end: Point = [round(to[0], places), round(to[1], places)];
    const words = [arc === undefined ? 'G1' : arc.clockwise ? 'G2' : 'G3'];
    for (const axis of [0, 1] as const) {
      if (arc === undefined && end[axis] === at[axis]) continue;
      words.push(this.word(axes[axis], incremental ? end[axis] - at[axis] : end[axis]));
    }
    if (level !== this.level) words.push(this.word(axes[2], incremental ? level - this.level : level));
    if (arc !== undefined) words.push(...this.centreWords(arc, at, end));
    this.at = end;
    this.level = level;
    return this.block(words);
  }

  private centreWords(arc: NonNullable<PlaneMove['arc']>, at: Point, end: Point): string[] {
    const { centre, clockwise } = arc;
    if (this.manner.byRadius && (end[0] !== at[0] || end[1] !== at[1])) {
      const from = Math.atan2(at[1] - centre[1], at[0] - centre[0]);
      const to = Math.atan2(end[1] - centre[1], end[0] - centre[0]);
      const turn = (((clockwise ? from - to : to - from) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
      const radius = Math.hypot(at[0] - centre[0], at[1] - centre[1]);
      return [this.word('R', turn > Math.PI + 1e-4 ? -radius : radius)];
    }
    return [0, 1].map((axis) =>
      this.word(this.centres[axis], this.manner.absoluteCentres ? centre[axis] : centre[axis] - at[axis]),
    );
  }

  private word(letter: string, value: number): string {
    return letter + numberText(value, this.places, this.manner.writing);
  }

  private block(words: readonly string[]): string {
    this.line += 10;
    const { numbered, spaces, lowerCase } = this.manner;
    // A person writes X Y Z I J K R in this order, whatever the plane.
    const ordered = [...words.filter(Boolean)].sort((a, b) => 'GXYZIJKRF'.indexOf(a[0]) - 'GXYZIJKRF'.indexOf(b[0]));
    const text = [...(numbered ? [`N${this.line}`] : []), ...ordered].join(spaces ? ' ' : '');
    return lowerCase ? text.toLowerCase() : text;
  }
}
