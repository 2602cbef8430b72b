/** Renaming of a variable, after everything was looked at that may read it by another way. */
import { argumentWords, LOCAL_VARIABLES } from '../machine/calls.ts';
import type { ControlProfile } from '../machine/profile.ts';
import { Block } from '../syntax/block.ts';
import { BlockReader } from '../syntax/reader.ts';
import type { VariableName } from '../syntax/variables.ts';
import { isLocal, isMainUnit, unitsSharing } from './definitionScope.ts';
import { type NamedPlace, variablePlaces } from './referencesNames.ts';
import { type ProgramText, visitBlocks } from './referencesText.ts';
import { variableTokens } from './referencesTokens.ts';
import type { Renamed, RenameInput } from './rename.ts';
import { computedCall, type LinkedText, linkedTo, missingProgram, placeOf, textsWithCalls } from './renameLinks.ts';

/** From here on variables are the control's own; and those that it keeps when it is switched off. Common practice, no source. */
const FIRST_SYSTEM = 1000;
const FIRST_KEPT = 500;

/** Between a macro's own variables and the common ones most controls have none. Common practice, no source. */
const FIRST_COMMON = 100;

/** Reads that are tried on the run. */
const MOST_TRIED = 200;

/** A variable as it is written. */
export const writtenVariable = (name: VariableName): string => (typeof name === 'number' ? `#${name}` : `#<${name}>`);

/** Why a variable is no name of this program's own; undefined where it is. */
export const variableKept = (name: VariableName, profile: ControlProfile): string | undefined => {
  if (typeof name === 'string') return undefined;
  if (name === 0) return '#0 is always empty and has no other name.';
  if (name >= FIRST_SYSTEM) return `#${name} is the control’s own: its number says what it holds.`;
  if (profile.systemVariables === 'macro' && name >= FIRST_KEPT)
    return `#${name} keeps its value when the control is switched off, so other programs may count on it. Take a number below #${FIRST_KEPT}.`;
  return undefined;
};

const missingOnControl = (name: VariableName, profile: ControlProfile): string | undefined =>
  profile.systemVariables === 'macro' && typeof name === 'number' && name > LOCAL_VARIABLES && name < FIRST_COMMON
    ? `Most controls have no variable #${name}. Take one from #${FIRST_COMMON} on.`
    : undefined;

/** The name that was typed: `#120`, `120`, `#<depth>`, `depth`; undefined for what is none. */
const readName = (typed: string): { readonly name: VariableName; readonly text: string } | undefined => {
  const number = /^#?\s*(\d{1,6})$/.exec(typed);
  if (number !== null) return { name: Number(number[1]), text: `#${Number(number[1])}` };
  const named = /^#?\s*<([^<>()#;%[\]=]+)>$/.exec(typed) ?? /^([A-Za-z_][A-Za-z0-9_ ]*)$/.exec(typed);
  const name = named?.[1].trim() ?? '';
  if (!/^[\x20-\x7e]+$/.test(name)) return undefined;
  return { name: name.toLowerCase().replace(/\s+/g, ''), text: `#<${name}>` };
};

/** See `renameAt`. */
export function* renameVariable(
  input: RenameInput,
  name: VariableName,
  typed: string,
): Generator<undefined, Renamed | undefined> {
  const target = readName(typed);
  const example = typeof name === 'number' ? '#120' : '#<depth>';
  if (target === undefined || typeof target.name !== typeof name)
    return { refusal: `“${typed}” is no name for ${writtenVariable(name)}. Write it like ${example}.` };
  if (target.name === name) return { own: [], others: new Map() };
  const { profile } = input.configuration;
  const refusal = variableKept(target.name, profile) ?? missingOnControl(target.name, profile);
  if (refusal !== undefined) return { refusal };
  const linked = linkedTo(yield* textsWithCalls(input));
  const units = unitsSharing(input.text, linked[0].calls, name, input.line);
  const all = Number.POSITIVE_INFINITY;
  const places = yield* variablePlaces(input.text, name, units, all);
  const reason =
    (yield* computedIn(linked)) ??
    localReason(input, linked, name, target.name) ??
    (yield* usedElsewhere(input, linked, name, target.name)) ??
    (yield* takenIn(input.text, units, target.name)) ??
    outsideReason(input, name, places);
  if (reason !== undefined) return { refusal: reason };
  return { own: places.map(({ isSet: _, ...place }) => ({ ...place, text: target.text })), others: new Map() };
}

/** A variable whose number is computed may be any. */
function* computedIn(linked: readonly LinkedText[]): Generator<undefined, string | undefined> {
  for (const { other, text } of linked) {
    let at = -1;
    yield* visitBlocks(
      text,
      (digest) => digest.hasVariables,
      /#[ \t]*[#[]/,
      (block, line) => {
        if (variableTokens(block).some(({ name }) => name === undefined)) at = line;
        return at >= 0;
      },
    );
    if (at >= 0)
      return `${capital(placeOf(other, at))} names a variable by a computed number, which may be this one. Nothing was renamed.`;
  }
  return undefined;
}

/** #1 to #33 are a macro's own, and filled by the letters of its call. */
const localReason = (
  { text, line, analysis }: RenameInput,
  linked: readonly LinkedText[],
  name: VariableName,
  target: VariableName,
): string | undefined => {
  if (!isLocal(name) && !isLocal(target)) return undefined;
  const macros = linked.flatMap((from) => from.calls.filter(({ isMacro }) => isMacro).map((call) => ({ from, call })));
  const units = unitsSharing(text, linked[0].calls, name, line);
  const isCalled = (number: number) => linked.some(({ calls }) => calls.some((call) => call.number === number));
  const stranger = units.find((unit) => !isMainUnit(analysis, unit) && !isCalled(unit.number));
  if (stranger !== undefined)
    return `#1 to #33 may be filled by whoever calls this program, and no call of it is in this folder. Nothing was renamed.`;
  if (macros.length === 0) return undefined;
  if (isLocal(name) !== isLocal(target))
    return `#1 to #33 belong to one macro alone, higher numbers to all programs. ${writtenVariable(name)} cannot become ${writtenVariable(target)} where G65 or G66 is used.`;
  for (const { from, call } of macros) {
    if (call.number === undefined || !units.some(({ number }) => number === call.number)) continue;
    const letter = letterThatFills(from.text, call.line, [name, target]);
    if (letter !== undefined)
      return `The letter ${letter} of the call in ${placeOf(from.other, call.line)} fills this variable or the new one, so the number says what it is. Nothing was renamed.`;
  }
  return undefined;
};

const letterThatFills = (text: ProgramText, line: number, names: readonly VariableName[]): string | undefined => {
  const block = new Block();
  const source = text.lineText(line);
  new BlockReader(text.profile).read(source, 0, source.length, block, undefined);
  const argument = argumentWords(block).find(({ variable }) => names.includes(variable));
  return argument && String.fromCharCode(65 + block.letters[argument.word]);
};

/** Other files that run together with this one. */
function* usedElsewhere(
  { text }: RenameInput,
  linked: readonly LinkedText[],
  name: VariableName,
  target: VariableName,
): Generator<undefined, string | undefined> {
  const hasMacros = linked.some(({ calls }) => calls.some(({ isMacro }) => isMacro));
  const crosses = linked.some(({ calls, text: from }) =>
    calls.some(({ isMacro, number }) => !isMacro && (number === undefined || !from.layout.unitOfNumber(number))),
  );
  if (isLocal(name) && hasMacros && !crosses) return undefined;
  const missing = missingProgram(linked);
  const written = writtenVariable(name);
  if (missing !== undefined)
    return `O${missing} is called and is not in this folder, so it may use ${written} too. Put its file beside this one first.`;
  const computed = computedCall(linked);
  if (computed !== undefined)
    return `The call in ${computed} computes its program number, and that program may use ${written} too. Nothing was renamed.`;
  for (const { other, text: of } of linked) {
    if (of === text) continue;
    for (const one of [name, target]) {
      const [place] = yield* variablePlaces(of, one, of.layout.units, 1);
      if (place !== undefined)
        return `${writtenVariable(one)} is used in ${placeOf(other, place.line)} too, which runs together with this program. Nothing was renamed.`;
    }
  }
  return undefined;
}

function* takenIn(
  text: ProgramText,
  units: Parameters<typeof variablePlaces>[2],
  target: VariableName,
): Generator<undefined, string | undefined> {
  const [place] = yield* variablePlaces(text, target, units, 1);
  return place && `${writtenVariable(target)} is in use already, in line ${place.line + 1}. Take one that is free.`;
}

/** A variable that is read before the program set it holds what the operator or another program left in it. */
const outsideReason = (
  { analysis }: RenameInput,
  name: VariableName,
  places: readonly NamedPlace[],
): string | undefined => {
  const written = writtenVariable(name);
  const outside = (line: number) =>
    `${written} is read in line ${line + 1} before this program sets it, so its value comes from outside. It must keep its number.`;
  if (!places.some(({ isSet }) => isSet)) return outside(places[0]?.line ?? 0);
  const reads = places.filter(({ isSet }) => !isSet).slice(0, MOST_TRIED);
  const empty = reads.find(
    ({ line, column }) =>
      analysis.isReached(line) &&
      analysis.variableBefore(line, name) === undefined &&
      !isSetBefore(
        analysis.lineText(line),
        column,
        places.filter((other) => other.line === line && other.isSet),
      ),
  );
  return empty && outside(empty.line);
};

/** True if the same block sets it in an assignment that is over before the column; `#1=#1+1` does not. */
const isSetBefore = (text: string, column: number, sets: readonly NamedPlace[]): boolean =>
  sets.some(({ endColumn }) => endColumn <= column && /^\s*=.*[\s\]].*$/.test(text.slice(endColumn, column)));

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
