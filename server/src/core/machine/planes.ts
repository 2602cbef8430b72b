/** The three planes: which axes and centre words belong to them. Right-handed, after ISO 6983-1. */

/** Axes by place among X Y Z A B C U V W. */
export interface Plane {
  readonly code: number;
  readonly name: 'XY' | 'ZX' | 'YZ';
  /** First, second and normal axis: 0 X, 1 Y, 2 Z. G18 runs from Z to X. */
  readonly first: number;
  readonly second: number;
  readonly third: number;
}

const XY: Plane = { code: 17, name: 'XY', first: 0, second: 1, third: 2 };
const ZX: Plane = { code: 18, name: 'ZX', first: 2, second: 0, third: 1 };
const YZ: Plane = { code: 19, name: 'YZ', first: 1, second: 2, third: 0 };

/** The plane of G17, G18 or G19 (17, 18, 19). */
export const planeOf = (code: number): Plane => (code === 18 ? ZX : code === 19 ? YZ : XY);

/** Letters of the axes, in the order positions are kept in. */
const AXIS_LETTERS = 'XYZABCUVW';

/** Place in the alphabet of each axis's letter. */
export const AXIS_WORDS = Int32Array.from(AXIS_LETTERS, (letter) => letter.charCodeAt(0) - 65);

/** Bit of every axis letter. */
export const AXIS_BITS = AXIS_WORDS.reduce((bits, letter) => bits | (1 << letter), 0);

/** Bits of the axes beside X Y Z. */
export const OTHER_AXIS_BITS = AXIS_WORDS.slice(3).reduce((bits, letter) => bits | (1 << letter), 0);
