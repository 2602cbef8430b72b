/** How far a variable reaches, and the finder of what sets it. */
import type { Analysis } from '../checks/analysis.ts';
import { FactKind } from '../checks/facts.ts';
import type { ProgramUnit } from '../checks/flow/layout.ts';
import { argumentWords, LOCAL_VARIABLES } from '../machine/calls.ts';
import type { VariableName } from '../syntax/variables.ts';
import { type OriginFinder, spanOfWord } from './modeOriginFinders.ts';
import { type ProgramText, visitBlocks } from './referencesText.ts';
import { callToken, variableTokens } from './referencesTokens.ts';

/** Lines that may hold a call. */
const CALL = /M[ \t]*0*98(?!\d)|G[ \t]*0*6[56](?!\d)/i;

/** A call of a program in a text. */
export interface ProgramCall {
  readonly line: number;
  readonly column: number;
  readonly endColumn: number;
  /** Columns from the code to the number. */
  readonly whole: { readonly column: number; readonly endColumn: number };
  /** Undefined where it is computed. */
  readonly number: number | undefined;
  /** Digits before the number that say how often it runs. */
  readonly repeats: string;
  readonly isMacro: boolean;
}

/** All calls of a text, in the order of lines; at most `most`. */
export function* programCalls(text: ProgramText, most: number): Generator<undefined, ProgramCall[]> {
  const found: ProgramCall[] = [];
  if (!text.profile.flow) return found;
  yield* visitBlocks(
    text,
    (digest) => digest.hasCalls,
    CALL,
    (block, line) => {
      const call = callToken(block, text.profile);
      if (call !== undefined) found.push({ ...call, line });
      return found.length >= most;
    },
  );
  return found;
}

/** True for a variable that a macro has of its own. */
export const isLocal = (name: VariableName): name is number =>
  typeof name === 'number' && name >= 1 && name <= LOCAL_VARIABLES;

/**
 * The programs of a text that share a variable with the one at a line: all of them, but for #1 to #33 where macros are
 * called; those belong to one level of macro calls, which M98 does not leave.
 */
export const unitsSharing = (
  text: ProgramText,
  calls: readonly ProgramCall[],
  name: VariableName,
  line: number,
): readonly ProgramUnit[] => {
  const { layout } = text;
  if (!isLocal(name) || !calls.some(({ isMacro }) => isMacro)) return layout.units;
  const sharing = new Set([layout.unitOf(line)]);
  const pairs = calls.flatMap((call) => {
    const called = call.isMacro || call.number === undefined ? undefined : layout.unitOfNumber(call.number);
    return called === undefined ? [] : [[layout.unitOf(call.line), called] as const];
  });
  let size = 0;
  while (size !== sharing.size) {
    size = sharing.size;
    for (const [caller, called] of pairs) {
      if (sharing.has(caller)) sharing.add(called);
      else if (sharing.has(called)) sharing.add(caller);
    }
  }
  return [...sharing].sort((a, b) => a.firstLine - b.firstLine);
};

/** True if a line belongs to one of some programs. */
export const isWithinUnits = (units: readonly ProgramUnit[], line: number): boolean =>
  units.some(({ firstLine, endLine }) => firstLine <= line && line < endLine);

/** True for a program that is no subprogram: the first one of a file that ends it by M2 or M30, or works like one that does. */
export const isMainUnit = (analysis: Analysis, unit: ProgramUnit): boolean => {
  if (unit !== analysis.layout.units[0]) return false;
  if (!analysis.isSubprogramFile) return true;
  const ends = analysis.programFacts().of(FactKind.programEnd);
  return ends.some(({ line }) => isWithinUnits([unit], line));
};

/** Finds the assignments of a variable; for a macro's own ones the arguments of its call. */
export const variableFinder = (name: VariableName, units: readonly ProgramUnit[]): OriginFinder => ({
  mayHold: (digest) => digest.hasVariables,
  find: (block) =>
    variableTokens(block)
      .filter((token) => token.isSet && token.name === name)
      .at(-1),
  isWithin: (line) => isWithinUnits(units, line),
  ...(isLocal(name) && {
    findInCall: (block) => {
      const argument = argumentWords(block)
        .filter(({ variable }) => variable === name)
        .at(-1);
      return argument && spanOfWord(block, argument.word);
    },
  }),
});
