/**
 * Drills known by a number or a letter instead of a measure.
 * Source: ASME B94.11M, number sizes 1 to 60 and letter sizes A to Z, typed from memory.
 */

/** Diameters in thousandths of an inch of number drills 1 to 60. */
// biome-ignore format: a table reads best in rows of ten
const numberSizes: readonly number[] = [
  228, 221, 213, 209, 205.5, 204, 201, 199, 196, 193.5,
  191, 189, 185, 182, 180, 177, 173, 169.5, 166, 161,
  159, 157, 154, 152, 149.5, 147, 144, 140.5, 136, 128.5,
  120, 116, 113, 111, 110, 106.5, 104, 101.5, 99.5, 98,
  96, 93.5, 89, 86, 82, 81, 78.5, 76, 73, 70,
  67, 63.5, 59.5, 55, 52, 46.5, 43, 42, 41, 40,
];

/** Diameters in thousandths of an inch of letter drills A to Z. */
// biome-ignore format: a table reads best in rows
const letterSizes: readonly number[] = [
  234, 238, 242, 246, 250, 257, 261, 266, 272, 277, 281, 290, 295,
  302, 316, 323, 332, 339, 348, 358, 368, 377, 386, 397, 404, 413,
];

/** Diameter in millimetres of a drill called by number ("7") or letter ("F"), or undefined. */
export function drillDiameterByName(name: string): number | undefined {
  const mils = /^[A-Z]$/.test(name) ? letterSizes[name.charCodeAt(0) - 65] : numberSizes[Number(name) - 1];
  return mils === undefined ? undefined : mils * 0.0254;
}
