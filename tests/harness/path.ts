/** What a program does, as short data for tests: its path, its findings' codes, and the machine's state at its end. */
import { Analysis } from '../../server/src/core/checks/analysis.ts';
import { tracedMoves } from '../../server/src/core/features/trace.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../../server/src/core/machine/configuration.ts';
import type { Mode } from '../../server/src/core/machine/modes.ts';
import { type ControlProfile, PROFILES } from '../../server/src/core/machine/profile.ts';

/** A preset's name, or a preset with fields of its own. */
export type ProfileChoice = string | (Partial<ControlProfile> & { readonly base: string });

const profileOf = (choice: ProfileChoice): ControlProfile => {
  if (typeof choice === 'string') return PROFILES[choice];
  const { base, ...fields } = choice;
  return { ...PROFILES[base], ...fields };
};

/** A program that was run under a profile (`iso` where it is left out). */
export const executed = (
  program: string,
  profile: ProfileChoice = 'iso',
  configuration: Partial<Configuration> = {},
): Analysis => {
  const analysis = new Analysis(program, { ...DEFAULT_CONFIGURATION, ...configuration, profile: profileOf(profile) });
  analysis.run();
  return analysis;
};

/** Six decimals (a millionth of a millimetre), null for what is not known, no negative zero. */
const short = (value: number): number | null => (Number.isNaN(value) ? null : Math.round(value * 1e6) / 1e6 + 0);

/**
 * The moves of all programs in the text, one list each: `['rapid', x, y, z]`, `['line', x, y, z]`,
 * `['arc', x, y, z, centreX, centreY, centreZ, degrees]` (counter-clockwise positive), `['dwell', seconds]`.
 */
export const path = (
  program: string,
  profile?: ProfileChoice,
  configuration?: Partial<Configuration>,
): readonly (string | number | null)[][] =>
  [...tracedMoves(executed(program, profile, configuration), { firstLine: 0 })].map((move) => {
    if (move.kind === 'dwell') return ['dwell', short(move.seconds)];
    const end = move.to.map(short);
    return move.arc === undefined
      ? [move.kind, ...end]
      : ['arc', ...end, ...move.arc.centre.map(short), short(move.arc.sweep)];
  });

/** Codes of the findings in order of their places; with `only`, those that begin with it. */
export const findingCodes = (program: string, profile?: ProfileChoice, only = ''): string[] =>
  executed(program, profile)
    .findings()
    .findings.map(({ rule }) => rule)
    .filter((code) => code.startsWith(only));

/** X Y Z at the program's end. */
export const endPoint = (program: string, profile?: ProfileChoice): (number | null)[] => {
  const analysis = executed(program, profile);
  return [...analysis.stateAfter(analysis.lineCount - 1).position.subarray(0, 3)].map(short);
};

/** One mode at the program's end. */
export const endMode = (program: string, mode: (typeof Mode)[keyof typeof Mode], profile?: ProfileChoice): number => {
  const analysis = executed(program, profile);
  return analysis.stateAfter(analysis.lineCount - 1).modes[mode];
};
