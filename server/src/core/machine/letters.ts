/** Places of the word letters in the alphabet, as blocks keep them, and how many axes a position has. */
import { letterIndex } from '../syntax/block.ts';

export const D = letterIndex('D');
export const F = letterIndex('F');
export const G = letterIndex('G');
export const H = letterIndex('H');
export const I = letterIndex('I');
export const J = letterIndex('J');
export const K = letterIndex('K');
export const L = letterIndex('L');
export const M = letterIndex('M');
export const P = letterIndex('P');
export const Q = letterIndex('Q');
export const R = letterIndex('R');
export const S = letterIndex('S');
export const T = letterIndex('T');
export const X = letterIndex('X');
export const Z = letterIndex('Z');

/** How many axes positions have: X Y Z A B C U V W. */
export const AXIS_COUNT = 9;
