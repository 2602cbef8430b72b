/**
 * How a piece of the toolpath travels to the view: one buffer, a header of fixed size, then one array after the other.
 *
 * | bytes | what |
 * |---|---|
 * | 0 | Uint32 × 4: mark, layout version, number of vertices n, axes drawn at zero because they are never known |
 * | 16 | Float64 × 3: origin that the positions are relative to, work coordinates in mm |
 * | 40 | Float64 × 6: least and greatest X Y Z of everything drawn, mm (empty: least above greatest) |
 * | 88 | Float64 × 6: the same of what is cut at feed |
 * | 136 | Float32 × 3 n: positions, mm |
 * | | Uint32 × n: line counted from the piece's first line × 16 + style of the way that leads to this vertex |
 * | | Uint8 × n: tool number, 255 where it is not known or above 254 |
 *
 * The style `none` starts a new line: nothing is drawn between the vertex before and this one.
 */

/** How the way to a vertex is drawn. */
export const PathStyle = {
  none: 0,
  rapid: 1,
  /** At feed, straight or along an arc. */
  cut: 2,
  /** At feed straight along Z. */
  plunge: 3,
  /** An arc that also moves along its third axis. */
  helix: 4,
} as const;

/** Bits of a vertex' code below the line number, which may be negative: a move that began before the piece. */
export const STYLE_BITS = 4;

/** Tool number of a vertex whose tool is not known. */
export const UNKNOWN_TOOL = 255;

const MARK = 0x48544150;
const VERSION = 1;
const HEADER_BYTES = 136;
const VERTEX_BYTES = 17;

/** The most vertices in one piece, so that it stays below one megabyte. */
export const MAX_VERTICES = Math.floor((1024 * 1024 - HEADER_BYTES) / VERTEX_BYTES);

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
  readonly tools: Uint8Array;
}

const viewsOf = (buffer: ArrayBuffer, vertexCount: number, assumedAxes: number): PackedPath => ({
  buffer,
  vertexCount,
  assumedAxes,
  origin: new Float64Array(buffer, 16, 3),
  bounds: new Float64Array(buffer, 40, 6),
  cutBounds: new Float64Array(buffer, 88, 6),
  positions: new Float32Array(buffer, HEADER_BYTES, vertexCount * 3),
  codes: new Uint32Array(buffer, HEADER_BYTES + vertexCount * 12, vertexCount),
  tools: new Uint8Array(buffer, HEADER_BYTES + vertexCount * 16, vertexCount),
});

/** Bounds of nothing: least X Y Z above greatest X Y Z. */
export const emptyBounds = (): Float64Array => new Float64Array(6).fill(Infinity, 0, 3).fill(-Infinity, 3, 6);

/** A new piece with room for `vertexCount` vertices; its bounds are empty. */
export function createPackedPath(vertexCount: number, assumedAxes: number): PackedPath {
  const buffer = new ArrayBuffer(HEADER_BYTES + vertexCount * VERTEX_BYTES);
  new Uint32Array(buffer, 0, 4).set([MARK, VERSION, vertexCount, assumedAxes]);
  const path = viewsOf(buffer, vertexCount, assumedAxes);
  path.bounds.set(emptyBounds());
  path.cutBounds.set(emptyBounds());
  return path;
}

/** Reads a piece that came over; `undefined` if it is not one of this layout. Nothing is copied. */
export function readPackedPath(buffer: ArrayBuffer): PackedPath | undefined {
  if (buffer.byteLength < HEADER_BYTES) return undefined;
  const [mark, version, vertexCount, assumedAxes] = new Uint32Array(buffer, 0, 4);
  if (mark !== MARK || version !== VERSION || assumedAxes > 7) return undefined;
  if (buffer.byteLength !== HEADER_BYTES + vertexCount * VERTEX_BYTES) return undefined;
  return viewsOf(buffer, vertexCount, assumedAxes);
}
