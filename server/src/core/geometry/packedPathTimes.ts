/**
 * How the times of a piece of the toolpath travel to the view, apart from the piece itself: who only looks needs none.
 *
 * | bytes | what |
 * |---|---|
 * | 0 | Uint32 × 4: mark, layout version, number of vertices n, 0 |
 * | 16 | Float64: second of the run at which the piece starts |
 * | 24 | Float64 × n: seconds at each vertex, counted from the piece's start; they never fall |
 */

const MARK = 0x454d4954;
const VERSION = 1;
const HEADER_BYTES = 24;

/** The times of a piece as views of one buffer. */
export interface PackedTimes {
  readonly buffer: ArrayBuffer;
  /** Second of the run at which the piece starts. An edit before the piece moves it; the list of pieces has the newest. */
  readonly start: number;
  /** Seconds at each vertex of the piece, counted from its start. */
  readonly seconds: Float64Array;
}

/** Times of a piece that has so many vertices, all nought. */
export function createPackedTimes(vertexCount: number, start: number): PackedTimes {
  const buffer = new ArrayBuffer(HEADER_BYTES + vertexCount * 8);
  new Uint32Array(buffer, 0, 4).set([MARK, VERSION, vertexCount, 0]);
  new Float64Array(buffer, 16, 1)[0] = start;
  return { buffer, start, seconds: new Float64Array(buffer, HEADER_BYTES, vertexCount) };
}

/** Reads times that came over; `undefined` if they are not of this layout. Nothing is copied. */
export function readPackedTimes(buffer: ArrayBuffer): PackedTimes | undefined {
  if (buffer.byteLength < HEADER_BYTES || buffer.byteLength % 8 !== 0) return undefined;
  const [mark, version, vertexCount] = new Uint32Array(buffer, 0, 3);
  if (mark !== MARK || version !== VERSION || buffer.byteLength !== HEADER_BYTES + vertexCount * 8) return undefined;
  const [start] = new Float64Array(buffer, 16, 1);
  return { buffer, start, seconds: new Float64Array(buffer, HEADER_BYTES, vertexCount) };
}
