/**
 * Drills for metric threads with coarse pitch.
 * Source: ISO 2306, drills for use prior to tapping screw threads, typed from memory.
 */

/** Nominal diameter and drill, mm. */
// biome-ignore format: a table reads best in rows
export const isoTapDrills: ReadonlyMap<number, number> = new Map([
  [1, 0.75], [1.1, 0.85], [1.2, 0.95], [1.4, 1.1], [1.6, 1.25], [1.8, 1.45], [2, 1.6], [2.2, 1.75],
  [2.5, 2.05], [3, 2.5], [3.5, 2.9], [4, 3.3], [4.5, 3.7], [5, 4.2], [6, 5], [7, 6],
  [8, 6.8], [9, 7.8], [10, 8.5], [11, 9.5], [12, 10.2], [14, 12], [16, 14], [18, 15.5],
  [20, 17.5], [22, 19.5], [24, 21], [27, 24], [30, 26.5], [33, 29.5], [36, 32], [39, 35],
  [42, 37.5], [45, 40.5], [48, 43], [52, 47], [56, 50.5], [60, 54.5], [64, 58],
]);
