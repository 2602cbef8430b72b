/** Renaming of a program number with all calls of it, in this file and in those beside it. */
import { numberOfName } from '../checks/flow/siblingFiles.ts';
import { headOfLine, programHeads } from './referencesNames.ts';
import type { OtherText, Renamed, RenameEdit, RenameInput } from './rename.ts';
import { computedCall, type LinkedText, placeOf, textsWithCalls } from './renameLinks.ts';

/** Digits of a program number at most; where repeats stand before it. Common practice, no source. */
const MOST_DIGITS = 8;
const DIGITS_BEHIND_REPEATS = 4;

/** See `renameAt`. */
export function* renameProgram(
  input: RenameInput,
  number: number,
  typed: string,
): Generator<undefined, Renamed | undefined> {
  const { profile } = input.configuration;
  const digits = profile.subprogramRepeats === 'first-digits' ? DIGITS_BEHIND_REPEATS : MOST_DIGITS;
  const target = /^[O:]?\s*0*(\d+)$/i.exec(typed);
  if (target === null || target[1].length > digits || Number(target[1]) === 0)
    return { refusal: `“${typed}” is no program number. Write up to ${digits} digits, like O1234.` };
  const wanted = Number(target[1]);
  if (wanted === number) return { own: [], others: new Map() };
  const all = yield* textsWithCalls(input);
  const owner = ownerOf(all, number);
  if (typeof owner === 'string') return { refusal: owner };
  const isForFolder = owner.text.layout.units[0].number === number;
  const scope = isForFolder ? all.filter((one) => one === owner || !one.text.layout.unitOfNumber(number)) : [owner];
  const reason = reasonAgainst(input, all, scope, owner, wanted, isForFolder);
  if (reason !== undefined) return { refusal: reason };
  return editsOf(scope, number, wanted);
}

/** The text that has the program; or why there is none. */
const ownerOf = (all: readonly LinkedText[], number: number): LinkedText | string => {
  const own = all[0].text.layout.unitOfNumber(number) !== undefined;
  const owners = own ? [all[0]] : all.filter(({ text }) => text.layout.units[0].number === number);
  const [owner] = owners;
  if (owner === undefined)
    return all.some(({ other }) => other !== undefined && numberOfName(other.name) === number)
      ? `O${number} is found by the name of its file alone. Rename the file, then its calls.`
      : `O${number} is nowhere to be found beside this program, so its number cannot be changed with its calls.`;
  const heads = programHeads(owner.text, number);
  if (heads.length > 1)
    return `O${number} stands in ${heads
      .map((line) => placeOf(owner.other, line))
      .slice(0, 2)
      .join(' and ')}. Give one of them another number by hand first.`;
  const isFirst = owner.text.layout.units[0].number === number;
  const second = isFirst ? all.find((one) => one !== owner && one.text.layout.units[0].number === number) : undefined;
  if (second === undefined) return owner;
  const names = [owner, second].map(({ other }) => other?.name ?? 'this file').join(' and ');
  return `O${number} stands at the head of ${names}. Give one of them another number by hand first.`;
};

const reasonAgainst = (
  { isWhole }: RenameInput,
  all: readonly LinkedText[],
  scope: readonly LinkedText[],
  owner: LinkedText,
  wanted: number,
  isForFolder: boolean,
): string | undefined => {
  if (isForFolder && !isWhole)
    return 'Not all files of the folder could be read, and each of them may call this program. Nothing was renamed.';
  const computed = computedCall(scope);
  if (computed !== undefined)
    return `The call in ${computed} computes its program number, which may be this one. Nothing was renamed.`;
  const taken = takenIn(scope, wanted) ?? (isForFolder ? takenInFolder(all, wanted) : undefined);
  if (taken !== undefined) return taken;
  return owner.other === undefined || isForFolder ? undefined : 'Open the file of this program to rename it.';
};

/** The new number as a program of the same texts, or called there as another one. */
const takenIn = (scope: readonly LinkedText[], wanted: number): string | undefined => {
  for (const { other, text, calls } of scope) {
    const [taken] = programHeads(text, wanted);
    if (taken !== undefined) return `O${wanted} is in use already, in ${placeOf(other, taken)}. Take one that is free.`;
    const call = calls.find(({ number }) => number === wanted);
    if (call !== undefined)
      return `O${wanted} is called in ${placeOf(other, call.line)} as another program. Take a number that is free.`;
  }
  return undefined;
};

/** The new number as a file that would be found, or a call that would find the renamed program. */
const takenInFolder = (all: readonly LinkedText[], wanted: number): string | undefined => {
  for (const { other, text, calls } of all) {
    if (other !== undefined && numberOfName(other.name) === wanted)
      return `O${wanted} is in use already, by the name of ${other.name}. Take one that is free.`;
    const call = text.layout.unitOfNumber(wanted) ? undefined : calls.find(({ number }) => number === wanted);
    if (call !== undefined)
      return `O${wanted} is called in ${placeOf(other, call.line)} as another program. Take a number that is free.`;
    if (text.layout.units[0].number === wanted)
      return `O${wanted} is in use already, at the head of ${other?.name ?? 'this file'}. Take one that is free.`;
  }
  return undefined;
};

const editsOf = (scope: readonly LinkedText[], number: number, wanted: number): Renamed => {
  const others = new Map<OtherText, readonly RenameEdit[]>();
  let own: readonly RenameEdit[] = [];
  for (const linked of scope) {
    const edits = editsIn(linked, number, wanted);
    if (linked.other === undefined) own = edits;
    else if (edits.length > 0) others.set(linked.other, edits);
  }
  return { own, others };
};

const editsIn = ({ text, calls }: LinkedText, number: number, wanted: number): RenameEdit[] => {
  const edits: RenameEdit[] = [];
  for (const line of programHeads(text, number)) {
    const head = headOfLine(text, line);
    if (head === undefined) continue;
    const { column, endColumn } = head;
    // O0001 keeps its four digits.
    const width = text.lineText(line).charAt(column) === '0' ? endColumn - column : 0;
    edits.push({ line, column, endColumn, text: String(wanted).padStart(width, '0') });
  }
  for (const call of calls) {
    if (call.number !== number) continue;
    const { line, column, endColumn, repeats } = call;
    const width = repeats === '' ? 0 : DIGITS_BEHIND_REPEATS;
    edits.push({ line, column, endColumn, text: `${repeats}${String(wanted).padStart(width, '0')}` });
  }
  return edits.sort((a, b) => a.line - b.line);
};
