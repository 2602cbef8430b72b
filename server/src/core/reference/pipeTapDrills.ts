/**
 * Drills for pipe threads. Common practice, from memory: for G between the limits of the minor diameter in ISO 228-1, for NPT
 * those of a hole that is not reamed to the taper.
 */

/** Drill of a G thread, mm. */
// biome-ignore format: a table reads best in rows
export const gTapDrills: ReadonlyMap<string, number> = new Map([
  ['G1/16', 6.8], ['G1/8', 8.8], ['G1/4', 11.8], ['G3/8', 15.25], ['G1/2', 19], ['G5/8', 21], ['G3/4', 24.5],
  ['G7/8', 28.25], ['G1', 30.75], ['G1 1/8', 35.4], ['G1 1/4', 39.4], ['G1 1/2', 45.3], ['G1 3/4', 51.2], ['G2', 57.1],
]);

/** Drill of an NPT thread, mm. */
// biome-ignore format: a table reads best in rows
export const nptTapDrills: ReadonlyMap<string, number> = new Map([
  ['1/16 NPT', 6.25], ['1/8 NPT', 8.6], ['1/4 NPT', 11.1], ['3/8 NPT', 14.7], ['1/2 NPT', 18.2], ['3/4 NPT', 23.4],
  ['1 NPT', 29.4], ['1 1/4 NPT', 38.1], ['1 1/2 NPT', 44], ['2 NPT', 56.4],
]);
