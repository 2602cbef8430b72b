/**
 * ISO metric screw threads.
 * Source: ISO 261 / ISO 262 (diameter and pitch combinations), ISO 724 (basic dimensions), typed from memory.
 * The M63 row is the conduit thread of IEC 60423, also from memory.
 */

/** One nominal diameter of ISO 261 with its pitches, all in millimetres. */
export interface IsoThreadSize {
  readonly diameter: number;
  /** 1 and 2 are the first and second choice of ISO 261; 3 stands for sizes kept for special use. */
  readonly choice: 1 | 2 | 3;
  /** The coarse pitch; undefined where the standard gives fine pitches only. */
  readonly coarse: number | undefined;
  /** Fine pitches, largest first. */
  readonly fine: readonly number[];
}

/** diameter, choice, coarse pitch (0 for none), fine pitches. */
type Row = readonly [diameter: number, choice: 1 | 2 | 3, coarse: number, ...fine: number[]];

const rows: readonly Row[] = [
  [1, 1, 0.25, 0.2],
  [1.1, 2, 0.25, 0.2],
  [1.2, 1, 0.25, 0.2],
  [1.4, 2, 0.3, 0.2],
  [1.6, 1, 0.35, 0.2],
  [1.8, 2, 0.35, 0.2],
  [2, 1, 0.4, 0.25],
  [2.2, 2, 0.45, 0.25],
  [2.5, 1, 0.45, 0.35],
  [3, 1, 0.5, 0.35],
  [3.5, 2, 0.6, 0.35],
  [4, 1, 0.7, 0.5],
  [4.5, 2, 0.75, 0.5],
  [5, 1, 0.8, 0.5],
  [5.5, 3, 0, 0.5],
  [6, 1, 1, 0.75],
  [7, 2, 1, 0.75],
  [8, 1, 1.25, 1, 0.75],
  [9, 3, 1.25, 1, 0.75],
  [10, 1, 1.5, 1.25, 1, 0.75],
  [11, 3, 1.5, 1, 0.75],
  [12, 1, 1.75, 1.5, 1.25, 1],
  [14, 2, 2, 1.5, 1.25, 1],
  [15, 3, 0, 1.5, 1],
  [16, 1, 2, 1.5, 1],
  [17, 3, 0, 1.5, 1],
  [18, 2, 2.5, 2, 1.5, 1],
  [20, 1, 2.5, 2, 1.5, 1],
  [22, 2, 2.5, 2, 1.5, 1],
  [24, 1, 3, 2, 1.5, 1],
  [25, 3, 0, 2, 1.5, 1],
  [26, 3, 0, 1.5],
  [27, 2, 3, 2, 1.5, 1],
  [28, 3, 0, 2, 1.5, 1],
  [30, 1, 3.5, 3, 2, 1.5, 1],
  [32, 3, 0, 2, 1.5],
  [33, 2, 3.5, 3, 2, 1.5],
  [35, 3, 0, 1.5],
  [36, 1, 4, 3, 2, 1.5],
  [38, 3, 0, 1.5],
  [39, 2, 4, 3, 2, 1.5],
  [40, 3, 0, 3, 2, 1.5],
  [42, 1, 4.5, 4, 3, 2, 1.5],
  [45, 2, 4.5, 4, 3, 2, 1.5],
  [48, 1, 5, 4, 3, 2, 1.5],
  [50, 3, 0, 3, 2, 1.5],
  [52, 2, 5, 4, 3, 2, 1.5],
  [55, 3, 0, 4, 3, 2, 1.5],
  [56, 1, 5.5, 4, 3, 2, 1.5],
  [58, 3, 0, 4, 3, 2, 1.5],
  [60, 2, 5.5, 4, 3, 2, 1.5],
  [62, 3, 0, 4, 3, 2, 1.5],
  [63, 3, 0, 1.5],
  [64, 1, 6, 4, 3, 2, 1.5],
];

/** Every ISO metric size from M1 to M64, smallest first. */
export const isoThreadSizes: readonly IsoThreadSize[] = rows.map(([diameter, choice, coarse, ...fine]) => ({
  diameter,
  choice,
  coarse: coarse === 0 ? undefined : coarse,
  fine,
}));

const sizeByDiameter = new Map(isoThreadSizes.map((size) => [size.diameter, size]));

/** The ISO 261 row of a nominal diameter in millimetres, or undefined where the standard has none. */
export function isoThreadSize(diameter: number): IsoThreadSize | undefined {
  return sizeByDiameter.get(diameter);
}

/**
 * Basic pitch and minor diameter of a 60° thread, in the unit of the two arguments.
 * Source: ISO 724, D2 = D − 3/4·H and D1 = D − 5/4·H with H = √3/2·P, that is D − 0.649519·P and D − 1.082532·P.
 */
export function basicDiameters(major: number, pitch: number): { pitchDiameter: number; minor: number } {
  const triangleHeight = (Math.sqrt(3) / 2) * pitch;
  return { pitchDiameter: major - 0.75 * triangleHeight, minor: major - 1.25 * triangleHeight };
}
