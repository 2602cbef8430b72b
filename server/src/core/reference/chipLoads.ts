/**
 * Feed a tooth that cutters usually stand, by diameter: the widest span from finishing in tough steel to roughing in
 * aluminium, so that only a slip lies outside. Common practice, no source; no maker's table was used.
 */
import type { ToolKind } from './toolRemark.ts';

/** A diameter with the least and the most feed a tooth, mm. */
type ChipLoadRow = readonly [diameter: number, least: number, most: number];

const END_MILL: readonly ChipLoadRow[] = [
  [0.5, 0.0005, 0.015],
  [1, 0.001, 0.03],
  [3, 0.004, 0.08],
  [6, 0.01, 0.16],
  [10, 0.015, 0.25],
  [16, 0.02, 0.35],
  [25, 0.03, 0.5],
];

/** A twist drill's feed a turn is twice this. */
const DRILL: readonly ChipLoadRow[] = [
  [0.5, 0.001, 0.015],
  [1, 0.003, 0.03],
  [3, 0.01, 0.09],
  [6, 0.02, 0.16],
  [10, 0.03, 0.25],
  [16, 0.04, 0.35],
  [25, 0.05, 0.5],
];

/** Insert cutters: the insert decides, not the diameter. */
const FACE_MILL: readonly ChipLoadRow[] = [[20, 0.03, 0.6]];

const TABLES: Readonly<Partial<Record<ToolKind, readonly ChipLoadRow[]>>> = {
  'end-mill': END_MILL,
  drill: DRILL,
  'face-mill': FACE_MILL,
};

/**
 * Least and most feed a tooth in mm for a cutter of a diameter in mm, straight between the rows and flat beyond them;
 * undefined for kinds of tools that are not judged by it.
 */
export const chipLoadRange = (kind: ToolKind, diameter: number): readonly [number, number] | undefined => {
  const rows = TABLES[kind];
  if (rows === undefined || !(diameter > 0)) return undefined;
  const above = rows.findIndex(([limit]) => limit >= diameter);
  if (above === 0) return [rows[0][1], rows[0][2]];
  if (above < 0) return [rows[rows.length - 1][1], rows[rows.length - 1][2]];
  const [low, high] = [rows[above - 1], rows[above]];
  const share = (diameter - low[0]) / (high[0] - low[0]);
  return [low[1] + share * (high[1] - low[1]), low[2] + share * (high[2] - low[2])];
};
