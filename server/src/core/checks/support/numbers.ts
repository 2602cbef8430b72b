/** Numbers as they are written in messages and in words. */

const cut = (value: number, places: number): string => {
  const text = value.toFixed(places);
  const trimmed = text.includes('.') ? text.replace(/0+$/, '') : text;
  return Number(trimmed) === 0 ? '0.' : places === 0 ? `${trimmed}.` : trimmed;
};

/** A number as a program has it: with a point, trailing zeros cut (`12.`, `-4.5`). */
export const wordNumber = (value: number, places = 4): string => cut(value, places);

/** A number as a message has it: at most four decimals, no trailing point (`12`, `-4.5`). */
export const shortNumber = (value: number, places = 4): string => cut(value, places).replace(/\.$/, '');

/** Digits behind the point that a number needs, at most six. */
export const placesOf = (value: number): number => {
  const text = value.toFixed(6).replace(/0+$/, '');
  return text.length - text.indexOf('.') - 1;
};

/** Digits behind the point that lengths carry in a program: 3 in mm, 4 in inch. `unit` is mm a unit. */
export const lengthPlaces = (unit: number): number => (unit === 1 ? 3 : 4);

/** The smallest length that is written with the usual places, in the program's unit. */
export const lastPlace = (unit: number): number => (unit === 1 ? 0.001 : 0.0001);
