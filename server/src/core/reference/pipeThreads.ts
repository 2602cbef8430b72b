/**
 * Pipe threads.
 * Sources, typed from memory: G by ISO 228-1 (cylindrical, 55°); NPT by ASME B1.20.1 (taper 1:16, 60°),
 * where the diameter is the outside diameter of the pipe.
 */

/** One pipe size: its name in inches as written, threads an inch, major diameter in millimetres. */
export interface PipeThreadSize {
  readonly size: string;
  readonly threadsPerInch: number;
  readonly diameter: number;
}

type Row = readonly [size: string, threadsPerInch: number, diameter: number];

const gRows: readonly Row[] = [
  ['1/16', 28, 7.723],
  ['1/8', 28, 9.728],
  ['1/4', 19, 13.157],
  ['3/8', 19, 16.662],
  ['1/2', 14, 20.955],
  ['5/8', 14, 22.911],
  ['3/4', 14, 26.441],
  ['7/8', 14, 30.201],
  ['1', 11, 33.249],
  ['1 1/8', 11, 37.897],
  ['1 1/4', 11, 41.91],
  ['1 1/2', 11, 47.803],
  ['1 3/4', 11, 53.746],
  ['2', 11, 59.614],
];

const nptRows: readonly Row[] = [
  ['1/16', 27, 7.938],
  ['1/8', 27, 10.287],
  ['1/4', 18, 13.716],
  ['3/8', 18, 17.145],
  ['1/2', 14, 21.336],
  ['3/4', 14, 26.67],
  ['1', 11.5, 33.401],
  ['1 1/4', 11.5, 42.164],
  ['1 1/2', 11.5, 48.26],
  ['2', 11.5, 60.325],
];

function sizesOf(rows: readonly Row[]): ReadonlyMap<string, PipeThreadSize> {
  return new Map(rows.map(([size, threadsPerInch, diameter]) => [size, { size, threadsPerInch, diameter }]));
}

/** Cylindrical pipe threads G 1/16 to G 2, by size name. */
export const gThreadSizes = sizesOf(gRows);

/** Taper pipe threads 1/16 to 2 NPT, by size name. */
export const nptThreadSizes = sizesOf(nptRows);
