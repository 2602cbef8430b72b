/** Renaming of a sequence number with all jumps to it. */
import type { ProgramUnit } from '../checks/flow/layout.ts';
import { isMainUnit, isWithinUnits } from './definitionScope.ts';
import { headOfLine, type Jump, jumpsOf } from './referencesNames.ts';
import type { Renamed, RenameEdit, RenameInput } from './rename.ts';
import { type LinkedText, linkedTo, placeOf, textsWithCalls } from './renameLinks.ts';

/** See `renameAt`. `role` is what names the number at the cursor. */
export function* renameSequence(
  input: RenameInput,
  number: number,
  role: string,
  typed: string,
): Generator<undefined, Renamed | undefined> {
  const { text, line, configuration, analysis } = input;
  const unit = text.layout.unitOf(line);
  const target = /^N?\s*(\d{1,9})$/i.exec(typed);
  if (target === null) return { refusal: `“${typed}” is no sequence number. Write digits, like N120.` };
  const wanted = Number(target[1]);
  if (wanted === number) return { own: [], others: new Map() };
  const { sequenceNumberMax } = configuration.profile;
  if (wanted > sequenceNumberMax)
    return { refusal: `The control takes sequence numbers up to N${sequenceNumberMax}, and N${wanted} is more.` };
  const isMain = isMainUnit(analysis, unit);
  if (role === 'return' && !isMain)
    return { refusal: `M99 P${number} names a block of the program that calls. Rename it there.` };
  const labels = labelsIn(input, unit, number);
  const label = labelReason(labels, number) ?? takenReason(labelsIn(input, unit, wanted), wanted);
  if (label !== undefined) return { refusal: label };
  const linked = linkedTo(yield* textsWithCalls(input));
  const jumps = yield* jumpsOf(text);
  const reason =
    inOwnText(jumps, unit, isMain, input, [number, wanted]) ?? (yield* fromOtherFiles(linked, [number, wanted]));
  if (reason !== undefined) return { refusal: reason };
  const here = jumps.filter((jump) => jump.number === number && isWithinUnits([unit], jump.line));
  const named = here.filter(({ kind }) => kind !== 'return' || isMain);
  const head = headOfLine(text, labels[0]);
  if (head === undefined) return undefined;
  const places = [...named, { line: labels[0], column: head.column, endColumn: head.endColumn }];
  const edits: RenameEdit[] = places.map(({ line: at, column, endColumn }) => ({
    line: at,
    column,
    endColumn,
    text: String(wanted),
  }));
  return { own: edits.sort((a, b) => a.line - b.line), others: new Map() };
}

/** Lines of a program with a sequence number. */
const labelsIn = ({ text }: RenameInput, unit: ProgramUnit, number: number): number[] =>
  text.layout.linesOfSequenceNumber(number).filter((at) => isWithinUnits([unit], at));

const labelReason = (labels: readonly number[], number: number): string | undefined => {
  if (labels.length === 0) return `No block of this program has the number N${number}.`;
  if (labels.length === 1) return undefined;
  return `N${number} stands in lines ${labels[0] + 1} and ${labels[1] + 1}. Give one of them another number by hand first.`;
};

const takenReason = ([taken]: readonly number[], wanted: number): string | undefined =>
  taken === undefined ? undefined : `N${wanted} is in use already, in line ${taken + 1}. Take one that is free.`;

/** Jumps of this text that may lead to the number by another way; `numbers` are the present and the new one. */
const inOwnText = (
  jumps: readonly Jump[],
  unit: ProgramUnit,
  isMain: boolean,
  { text }: RenameInput,
  numbers: readonly [number, number],
): string | undefined => {
  for (const jump of jumps) {
    const from = text.layout.unitOf(jump.line);
    const place = `line ${jump.line + 1}`;
    const comesBack = jump.kind === 'return' && (from !== unit || !isMain);
    if (comesBack) {
      const reason = returnReason(jump, place, numbers);
      if (reason !== undefined) return reason;
    } else if (from === unit && jump.number === numbers[1])
      return `The jump in ${place} leads to N${jump.number}, which is missing, and would lead here. Take a number that is free.`;
    else if (from === unit && jump.number === undefined)
      return `The jump in ${place} computes its target, which may be this block. Nothing was renamed.`;
  }
  return undefined;
};

const returnReason = (jump: Jump, place: string, numbers: readonly number[]): string | undefined =>
  jump.number !== undefined && !numbers.includes(jump.number)
    ? undefined
    : `M99 P in ${place} comes back to a block of the program that calls, which may be this one. Nothing was renamed.`;

/** Subprograms in other files that come back to a sequence number of their caller. */
function* fromOtherFiles(
  linked: readonly LinkedText[],
  numbers: readonly number[],
): Generator<undefined, string | undefined> {
  for (const { other, text } of linked) {
    if (other === undefined) continue;
    for (const jump of yield* jumpsOf(text)) {
      if (jump.kind !== 'return') continue;
      const reason = returnReason(jump, placeOf(other, jump.line), numbers);
      if (reason !== undefined) return reason;
    }
  }
  return undefined;
}
