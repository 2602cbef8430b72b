/** Small questions that the checks of messages about the path ask of values that came from elsewhere. */

/** Fields of a value that came from elsewhere. */
export type Fields = Readonly<Record<string, unknown>>;

/** True for an object. */
export const isFields = (value: unknown): value is Fields => typeof value === 'object' && value !== null;

/** A whole number at or above `least`. */
export const isWhole = (value: unknown, least = 0): value is number =>
  typeof value === 'number' && Number.isSafeInteger(value) && value >= least;

/** A number that is known. */
export const isNumber = (value: unknown): value is number => Number.isFinite(value);

/** A known number that is not negative. */
export const isAtLeastZero = (value: unknown): value is number => isNumber(value) && value >= 0;

/** A known number, or null for one that is not known. */
export const isNumberOrNull = (value: unknown): boolean => value === null || isNumber(value);

/** A list of `count` values that all pass. */
export const isListOf = (value: unknown, count: number, passes: (one: unknown) => boolean): boolean =>
  Array.isArray(value) && value.length === count && value.every(passes);
