/** What a number may name: tools, registers, programs, blocks that are jumped to, variables. */
import { type Fact, FactKind } from '../checks/facts.ts';
import { Mode } from '../machine/modes.ts';
import type { CompletionPlace, WordItem } from './completionPlace.ts';
import { shortNumber } from './hoverPlace.ts';

/** More than these are not offered. */
const MOST = 200;
/** So many lines before and behind are looked through for blocks that GOTO may lead to. */
const LINES_AROUND = 3000;

/** All facts of a kind with their lines. */
const factsOf = ({ analysis }: CompletionPlace, kind: Fact['kind']): { fact: Fact; line: number }[] => {
  const found: { fact: Fact; line: number }[] = [];
  for (const { segment, firstLine } of analysis.passages()) {
    if ((segment.factKinds & (1 << kind)) === 0) continue;
    for (const fact of segment.facts) if (fact.kind === kind) found.push({ fact, line: firstLine + fact.line });
  }
  return found;
};

/** Tools of the tool table and of the program, by number. */
export const toolItems = (place: CompletionPlace): WordItem[] => {
  const tools = new Map<number, string>();
  for (const { fact } of factsOf(place, FactKind.toolChange)) {
    if (fact.a >= 0 && (tools.get(fact.a) ?? '') === '') tools.set(fact.a, fact.text.trim());
  }
  const inProgram = new Set(tools.keys());
  for (const { number } of place.configuration.tools) tools.set(number, place.toolDescription(number));
  return [...tools]
    .sort(([a], [b]) => a - b)
    .slice(0, MOST)
    .map(([number, description]) => ({
      label: `T${number}`,
      detail: description === '' ? 'a tool that nobody described' : description,
      effect: !inProgram.has(number) ? '' : number === place.mode(Mode.tool) ? 'in the spindle' : 'in this program',
      kind: 'tool',
    }));
};

/** H behind G43 or G44, D behind G41 or G42: the register of the tool in the spindle. */
export const registerItems = (place: CompletionPlace): WordItem[] => {
  const tool = place.isReached ? place.mode(Mode.tool) : -1;
  if (tool < 0) return [];
  const row = place.configuration.tools.find(({ number }) => number === tool);
  const items: WordItem[] = [];
  const offer = (letter: string, register: number | undefined, what: string): void => {
    const description = place.toolDescription(tool);
    const effect = register === undefined ? '' : 'as the tool table says';
    const detail = `${what} of T${tool}${description === '' ? '' : ` ${description}`}`;
    items.push({ label: `${letter}${register ?? tool}`, detail, effect, kind: 'word' });
  };
  if (
    place.hasCode(
      'G',
      [43, 44].map((code) => code * 10),
    ) &&
    !place.has('H')
  )
    offer('H', row?.lengthOffset, 'length');
  if (
    place.hasCode(
      'G',
      [41, 42].map((code) => code * 10),
    ) &&
    !place.has('D')
  ) {
    offer('D', row?.radiusOffset, place.configuration.profile.offsetRegister);
  }
  return items;
};

/** True for a call that names no program yet. */
export const lacksProgram = (place: CompletionPlace): boolean =>
  place.configuration.profile.flow && !place.has('P') && (place.hasCode('M', [98]) || place.hasCode('G', [650, 660]));

/** P of a call: the programs of this file, each with the remark behind its number. */
export const programItems = (place: CompletionPlace): WordItem[] => {
  if (!lacksProgram(place)) return [];
  const numbers = new Map<number, number>();
  for (const { fact, line } of factsOf(place, FactKind.programNumber)) {
    if (line !== 0 && !numbers.has(fact.a)) numbers.set(fact.a, line);
  }
  return [...numbers]
    .filter(([, line]) => line > place.line || !isOwn(place, line))
    .slice(0, MOST)
    .map(([number, line]) => {
      const remark = remarkAt(place, line) || remarkAt(place, line + 1);
      return {
        label: `P${number}`,
        detail: remark === '' ? `program O${number}` : remark,
        effect: `line ${line + 1}`,
        kind: 'program',
      };
    });
};

/** True for the O number of the program that the block itself stands in: the last one above it. */
const isOwn = (place: CompletionPlace, line: number): boolean => {
  const above = factsOf(place, FactKind.programNumber).filter((found) => found.line <= place.line);
  return line === Math.max(...above.map((found) => found.line));
};

const remarkAt = ({ analysis }: CompletionPlace, line: number): string => {
  const text = line < analysis.lineCount ? analysis.lineText(line) : '';
  if (!/^\s*(?:[O:]\s*\d+\s*)?[(;]/i.test(text)) return '';
  return (/\(([^)]*)\)/.exec(text) ?? /;(.*)/.exec(text))?.[1].trim() ?? '';
};

/** Sequence numbers that GOTO may lead to: those behind the block first, since the search begins there. */
export const jumpItems = (place: CompletionPlace): WordItem[] => {
  const { analysis, line } = place;
  const found = new Map<number, number>();
  const look = (from: number, to: number): void => {
    for (let at = Math.max(0, from); at < Math.min(to, analysis.lineCount) && found.size < MOST; at++) {
      const match = /^\s*(?:\/\d?\s*)?N\s*(\d+)/i.exec(analysis.lineText(at));
      if (match !== null && !found.has(Number(match[1]))) found.set(Number(match[1]), at);
    }
  };
  look(line + 1, line + LINES_AROUND);
  look(line - LINES_AROUND, line);
  return [...found].map(([number, at]) => ({
    label: String(number),
    detail: analysis.lineText(at).trim().slice(0, 60),
    effect: `line ${at + 1}`,
    kind: 'place',
  }));
};

/** Variables that hold something before the block, with what they hold. */
export const variableItems = (place: CompletionPlace, rest: string): WordItem[] => {
  if (/^\d/.test(rest) || !place.isReached) return [];
  const items: { readonly order: number; readonly item: WordItem }[] = [];
  for (const [name, value] of place.before.variables) {
    // The run keeps notes of its own among the variables; no name has blanks.
    if (typeof name === 'string' && name.includes(' ')) continue;
    const label = typeof name === 'number' ? `#${name}` : `#<${name}>`;
    const held = Number.isNaN(value) ? 'a value that is not known here' : shortNumber(value, 6);
    items.push({
      order: typeof name === 'number' ? name : Number.MAX_SAFE_INTEGER,
      item: { label, detail: `holds ${held}`, effect: '', kind: 'variable' },
    });
  }
  items.sort((a, b) => a.order - b.order || (a.item.label < b.item.label ? -1 : 1));
  return items.slice(0, MOST).map(({ item }) => item);
};
