/** Letters of an arc's words, by place in the alphabet. */
import { I, J, K, R } from '../../machine/letters.ts';
import { AXIS_WORDS } from '../../machine/planes.ts';

const LENGTHS = new Set<number>([...AXIS_WORDS.subarray(0, 3), I, J, K, R]);

/** True for the letters whose number is a length in an arc's block. */
export const isLengthLetter = (letter: number): boolean => LENGTHS.has(letter);

/** The centre letters. */
export const CENTRE_LETTERS: readonly number[] = [I, J, K];

/** Letter of a place in the alphabet. */
export const nameOf = (letter: number): string => String.fromCharCode(65 + letter);
