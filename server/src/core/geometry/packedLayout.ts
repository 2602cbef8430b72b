/**
 * How a piece of the toolpath travels to the view: one buffer, a header of fixed size, then one array after the other.
 *
 * | bytes | what |
 * |---|---|
 * | 0 | Uint32 × 6: mark, layout version, number of vertices n, axes drawn at zero because they are never known, number of rows r, 0 |
 * | 24 | Float64 × 3: origin that the positions are relative to, work coordinates in mm |
 * | 48 | Float64 × 6: least and greatest X Y Z of everything drawn, mm (empty: least above greatest) |
 * | 96 | Float64 × 6: the same of what is cut at feed |
 * | 144 | Float32 × 3 n: positions, mm |
 * | | Uint32 × n: line counted from the piece's first line × 16 + `BEGINS_AGAIN` or 0 + style of the way that leads to this vertex |
 * | | Float32 × 6 r: rows, what holds on a way; see `RowField` |
 * | | Uint16 × n: row of the way that leads to this vertex |
 *
 * The style `none` starts a new line: nothing is drawn between the vertex before and this one.
 */

/** How the way to a vertex is drawn. */
export const PathStyle = {
  none: 0,
  rapid: 1,
  /** At feed, straight. */
  cut: 2,
  /** At feed straight along Z. */
  plunge: 3,
  /** An arc that also moves along its third axis. */
  helix: 4,
  /** At feed along an arc in its plane. */
  arc: 5,
} as const;

/** Bits of a vertex' code below the line number, which may be negative: a move that began before the piece. */
export const STYLE_BITS = 4;

/** The bits of them that are the style. */
export const STYLE_MASK = 7;

/** Bit of a vertex' code: a block begins anew here though the way before is of the same line (the next pass through it). */
export const BEGINS_AGAIN = 8;

/** Places in a row. */
export const RowField = {
  /** Tool in the spindle, `UNKNOWN_TOOL` where it is not known. */
  tool: 0,
  /** mm/min along the path, NaN unknown. On rapids the feed in force, which they do not use. */
  feed: 1,
  /** S in force, rev/min; NaN where none was given or it is a cutting speed (G96). */
  speed: 2,
  /** Work offset, G number × 10 (540 … 590, 591 592 593); 10000 + P for G54.1 P. */
  offset: 3,
  /** 1 on the first pass through the line, 2 on any further one and in a subprogram's own file; which one tells `pathMoveAt`. */
  pass: 4,
  /** See `RowBit`. */
  bits: 5,
} as const;

/** Bits of `RowField.bits`. */
export const RowBit = {
  /** The spindle turns (M3, M4). */
  spindle: 1,
  /** Mist or flood is on (M7, M8). */
  coolant: 2,
  /** Made by a canned cycle. */
  cycle: 4,
  /** In step with the spindle: a thread is cut (G33, G84, G74). */
  synchronised: 8,
  /** Radius compensation is on (G41, G42). */
  compensated: 16,
} as const;

/** Numbers in a row. */
export const ROW_WIDTH = 6;

/** Tool number of a row whose tool is not known. */
export const UNKNOWN_TOOL = -1;

const MARK = 0x48544150;
const VERSION = 3;
const HEADER_BYTES = 144;
const VERTEX_BYTES = 18;
const ROW_BYTES = ROW_WIDTH * 4;
const MAX_BYTES = 1024 * 1024;
/** A row's number has 16 bits. */
const MAX_ROWS = 65_536;

/** The most vertices in one piece, so that it stays below one megabyte; rows weigh something too, see `pieceWeight`. */
export const MAX_VERTICES = Math.floor((MAX_BYTES - HEADER_BYTES) / VERTEX_BYTES);

/** How many vertices take as much room as these vertices and rows together. */
export const pieceWeight = (vertices: number, rows: number): number =>
  vertices + Math.ceil((rows * ROW_BYTES) / VERTEX_BYTES);

/** A piece of the path as views of one buffer. */
export interface PackedPath {
  readonly buffer: ArrayBuffer;
  readonly vertexCount: number;
  /** Bits: 1 X, 2 Y, 4 Z is drawn at zero because the program never gives it. */
  readonly assumedAxes: number;
  readonly origin: Float64Array;
  /** Least X Y Z, greatest X Y Z of everything drawn. */
  readonly bounds: Float64Array;
  /** The same of what is cut at feed. */
  readonly cutBounds: Float64Array;
  readonly positions: Float32Array;
  readonly codes: Uint32Array;
  /** `ROW_WIDTH` numbers a row. */
  readonly rows: Float32Array;
  /** Row of each vertex. */
  readonly rowOf: Uint16Array;
}

const viewsOf = (buffer: ArrayBuffer, vertexCount: number, assumedAxes: number, rowCount: number): PackedPath => {
  const codesAt = HEADER_BYTES + vertexCount * 12;
  const rowsAt = codesAt + vertexCount * 4;
  return {
    buffer,
    vertexCount,
    assumedAxes,
    origin: new Float64Array(buffer, 24, 3),
    bounds: new Float64Array(buffer, 48, 6),
    cutBounds: new Float64Array(buffer, 96, 6),
    positions: new Float32Array(buffer, HEADER_BYTES, vertexCount * 3),
    codes: new Uint32Array(buffer, codesAt, vertexCount),
    rows: new Float32Array(buffer, rowsAt, rowCount * ROW_WIDTH),
    rowOf: new Uint16Array(buffer, rowsAt + rowCount * ROW_BYTES, vertexCount),
  };
};

/** Bounds of nothing: least X Y Z above greatest X Y Z. */
export const emptyBounds = (): Float64Array => new Float64Array(6).fill(Infinity, 0, 3).fill(-Infinity, 3, 6);

/** A new piece with room for `vertexCount` vertices and `rowCount` rows; its bounds are empty, its rows are zeros. */
export function createPackedPath(vertexCount: number, assumedAxes: number, rowCount = 1): PackedPath {
  if (rowCount > MAX_ROWS) throw new RangeError(`${rowCount} rows in one piece of the path`);
  const buffer = new ArrayBuffer(HEADER_BYTES + vertexCount * VERTEX_BYTES + rowCount * ROW_BYTES);
  new Uint32Array(buffer, 0, 6).set([MARK, VERSION, vertexCount, assumedAxes, rowCount, 0]);
  const path = viewsOf(buffer, vertexCount, assumedAxes, rowCount);
  path.bounds.set(emptyBounds());
  path.cutBounds.set(emptyBounds());
  return path;
}

/** Reads a piece that came over; `undefined` if it is not one of this layout. Nothing is copied. */
export function readPackedPath(buffer: ArrayBuffer): PackedPath | undefined {
  if (buffer.byteLength < HEADER_BYTES) return undefined;
  const [mark, version, vertexCount, assumedAxes, rowCount] = new Uint32Array(buffer, 0, 5);
  if (mark !== MARK || version !== VERSION || assumedAxes > 7 || rowCount > MAX_ROWS) return undefined;
  if (buffer.byteLength !== HEADER_BYTES + vertexCount * VERTEX_BYTES + rowCount * ROW_BYTES) return undefined;
  return viewsOf(buffer, vertexCount, assumedAxes, rowCount);
}

/** One number of the row of a vertex; `field` is a `RowField`. */
export const rowValue = ({ rows, rowOf }: PackedPath, vertex: number, field: number): number =>
  rows[rowOf[vertex] * ROW_WIDTH + field];
