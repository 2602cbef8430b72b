/** Lengths and levels in messages of rules that look at the program: in its own units, as it would write them. */
import { Mode, type ModePool } from '../../machine/modes.ts';
import { lengthPlaces, shortNumber, wordNumber } from './numbers.ts';

/** Millimetres a unit under a set of modes. */
export const unitOf = (pool: ModePool, modes: number): number => (pool.at(modes, Mode.units) === 20 ? 25.4 : 1);

/** A coordinate as a word has it: `-12.5`. */
export const asWord = (millimetres: number, unit: number): string => wordNumber(millimetres / unit, lengthPlaces(unit));

/** A length as a message has it: `12.5`. */
export const asLength = (millimetres: number, unit: number): string =>
  shortNumber(millimetres / unit, lengthPlaces(unit));
