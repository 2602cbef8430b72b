/** Which files of a folder run together: those that call each other, directly or through others. */

import { numberOfName } from '../checks/flow/siblingFiles.ts';
import { type ProgramCall, programCalls } from './definitionScope.ts';
import type { ProgramText } from './referencesText.ts';
import type { OtherText, RenameInput } from './rename.ts';

/** A text with its calls; `other` is undefined for the program's own. */
export interface LinkedText {
  readonly other: OtherText | undefined;
  readonly text: ProgramText;
  readonly calls: readonly ProgramCall[];
}

/** True if a call of a number leads to a file: its first program has it, or its name. */
const answers = ({ text, other }: LinkedText, number: number): boolean =>
  text.layout.units[0].number === number || (other !== undefined && numberOfName(other.name) === number);

/** Numbers that a text calls in other files. */
const calledOutside = ({ text, calls }: LinkedText): number[] =>
  calls.flatMap(({ number }) => (number === undefined || text.layout.unitOfNumber(number) ? [] : [number]));

/** Texts of the folder with their calls, the program's own first. */
export function* textsWithCalls({ text, others }: RenameInput): Generator<undefined, LinkedText[]> {
  const found: LinkedText[] = [];
  for (const other of [undefined, ...others]) {
    const of = other?.text ?? text;
    found.push({ other, text: of, calls: yield* programCalls(of, Number.POSITIVE_INFINITY) });
  }
  return found;
}

/** Those of the texts that run together with the first one, it among them. */
export const linkedTo = (all: readonly LinkedText[]): LinkedText[] => {
  const linked = new Set([all[0]]);
  for (const one of linked) {
    for (const other of all) {
      const calls = (from: LinkedText, to: LinkedText) => calledOutside(from).some((number) => answers(to, number));
      if (!linked.has(other) && (calls(one, other) || calls(other, one))) linked.add(other);
    }
  }
  return [...linked];
};

/** A number that is called and is in none of the texts; undefined where all are there. */
export const missingProgram = (linked: readonly LinkedText[]): number | undefined =>
  linked.flatMap(calledOutside).find((number) => !linked.some((one) => answers(one, number)));

/** A call whose program number is computed. */
export const computedCall = (linked: readonly LinkedText[]): string | undefined => {
  for (const { other, calls } of linked) {
    const call = calls.find(({ number }) => number === undefined);
    if (call !== undefined) return placeOf(other, call.line);
  }
  return undefined;
};

/** `line 12`, `line 12 of HOLES.NC`. */
export const placeOf = (other: OtherText | undefined, line: number): string =>
  `line ${line + 1}${other === undefined ? '' : ` of ${other.name}`}`;
