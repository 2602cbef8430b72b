/** Ways that are cut in equal steps, none larger than asked for. */

/** How often, and by how much, a way is stepped. Both 0 where there is no way to go. */
export interface EvenSteps {
  readonly count: number;
  /** In the unit of the way. */
  readonly size: number;
}

/** A way in equal steps of at most `most`, in one unit. */
export const evenSteps = (way: number, most: number): EvenSteps => {
  if (!(way > 1e-9)) return { count: 0, size: 0 };
  const count = Math.max(1, Math.ceil(way / most - 1e-9));
  return { count, size: way / count };
};

/** Levels from below `top` down to `bottom`, in equal steps of at most `most`; Z in mm. */
export const evenLevels = (top: number, bottom: number, most: number): number[] => {
  const { count, size } = evenSteps(top - bottom, most);
  return Array.from({ length: count }, (_, i) => (i === count - 1 ? bottom : top - size * (i + 1)));
};
