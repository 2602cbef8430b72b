/**
 * Torque at which safety clutches of tapping adaptors are set, N·m by the tap's diameter in mm: below it a tap of
 * high-speed steel stays whole. Common practice, from memory; no maker's table was used.
 */
// biome-ignore format: a table reads best in rows
const limits: readonly (readonly [diameter: number, torque: number])[] = [
  [2, 0.2], [2.5, 0.35], [3, 0.5], [4, 1.2], [5, 2], [6, 4], [8, 8], [10, 16], [12, 22], [14, 36], [16, 40], [18, 63],
  [20, 70], [24, 115], [30, 200],
];

/** The torque that a tap of a diameter in mm stands, N·m, straight between the rows; undefined outside the table. */
export const tapTorqueLimit = (diameter: number): number | undefined => {
  const above = limits.findIndex(([row]) => row >= diameter - 1e-9);
  if (above < 0) return undefined;
  const [high, most] = limits[above];
  if (above === 0) return high - diameter < 1e-9 ? most : undefined;
  const [low, least] = limits[above - 1];
  return least + ((diameter - low) / (high - low)) * (most - least);
};
