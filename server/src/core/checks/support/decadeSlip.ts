/** Numbers that are ten or a hundred times, or the negative of, what the numbers beside them want. */

/** What makes the wrong number of the right one. */
export type Slip = 'ten' | 'hundred' | 'tenth' | 'hundredth' | 'sign';

const FACTORS: readonly (readonly [Slip, number])[] = [
  ['ten', 10],
  ['hundred', 100],
  ['tenth', 0.1],
  ['hundredth', 0.01],
  ['sign', -1],
];

/** Two lengths are one, mm. */
const SAME = 0.0006;

/** True if two lengths are the same, mm. */
export const isSame = (a: number, b: number): boolean => Math.abs(a - b) < SAME;

/** The slip that makes `written` of `right`, undefined where it is none. Zero has no slip. */
export const slipBetween = (written: number, right: number): Slip | undefined => {
  if (isSame(right, 0) || isSame(written, right)) return undefined;
  return FACTORS.find(([, factor]) => isSame(written, right * factor))?.[0];
};

/** A number out of the row that the four beside it make. */
export interface RowSlip {
  /** Its place in the row, and the first place of the five. */
  readonly place: number;
  readonly first: number;
  /** What would stand there. */
  readonly right: number;
  /** The step from one to the next; 0 where they are all the same. */
  readonly step: number;
  readonly slip: Slip;
}

/** How many numbers are looked at: one and the four that agree. */
export const ROW = 5;

/**
 * The number inside a row of five from `first` that breaks it, while the other four are evenly spaced. Undefined where none
 * does; at its ends a row may go over into another. The sign counts only where the row steps.
 */
export const slipInRow = (values: ArrayLike<number>, first: number): RowSlip | undefined => {
  for (let odd = 1; odd < ROW - 1; odd++) {
    const [a, b] = odd === 1 ? [0, 2] : [0, 1];
    const step = (values[first + b] - values[first + a]) / (b - a);
    const at = (place: number): number => values[first + a] + step * (place - a);
    let agree = true;
    for (let place = 0; place < ROW && agree; place++) {
      agree = place === odd || isSame(values[first + place], at(place));
    }
    if (!agree) continue;
    const right = at(odd);
    const slip = slipBetween(values[first + odd], right);
    if (slip === undefined) return undefined;
    if (slip === 'sign' && isSame(step, 0)) return undefined;
    return { place: first + odd, first, right, step: isSame(step, 0) ? 0 : step, slip };
  }
  return undefined;
};

/** True if the five numbers from `first` are evenly spaced. */
export const isRow = (values: ArrayLike<number>, first: number): boolean => {
  const step = values[first + 1] - values[first];
  for (let place = 2; place < ROW; place++) {
    if (!isSame(values[first + place], values[first] + place * step)) return false;
  }
  return true;
};
