/** What a conversion is: its lines, and the units that their numbers are in and get. */
import type { Configuration } from '../machine/configuration.ts';
import { G } from '../machine/letters.ts';
import type { FormatRange } from './formatProgram.ts';

/** Units by their codes: 20 inch, 21 mm. */
export type UnitCode = 20 | 21;

/** What the numbers of some lines are in, and what they are to be in. */
export interface Conversion {
  readonly range: FormatRange;
  readonly from: UnitCode;
  readonly to: UnitCode;
  /** The lines say their unit themselves, by G20 or G21, which is changed too. */
  readonly saysUnit: boolean;
}

/** The unit that a word selects; undefined for others. */
export const unitOfWord = (
  letter: number,
  value: number,
  { profile }: Pick<Configuration, 'profile'>,
): UnitCode | undefined => {
  if (letter !== G) return undefined;
  if (value === 20 || value === 21) return value;
  return profile.units7071 && (value === 70 || value === 71) ? (value === 70 ? 20 : 21) : undefined;
};
