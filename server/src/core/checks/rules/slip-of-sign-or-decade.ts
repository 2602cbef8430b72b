import type { ProgramFacts, ProgramReport } from '../facts.ts';
import type { Fix } from '../rule.ts';
import { isRow, isSame, ROW, type RowSlip, slipBetween, slipInRow } from '../support/decadeSlip.ts';
import { defineRule } from '../support/gradedRule.ts';
import { type Hole, type Level, rowsOf, type Section } from '../support/holeRows.ts';
import { shortNumber, wordNumber } from '../support/numbers.ts';

/** A longer program was not written by hand, and its numbers not typed. */
const MOST_LINES = 20_000;

/** Holes that must agree on a depth before another one is a slip, and the most that may differ. */
const AGREE = 4;
const DIFFER = 2;

/** A depth or coordinate ten or a hundred times, or the negative, of what its siblings say. */
export const slipOfSignOrDecade = defineRule({
  code: 'slip-of-sign-or-decade',
  severity: 'warning',
  reason: 'A lost point or sign sends the tool through the part, into the vice, or nowhere near.',
  messages: {
    depth:
      'This hole ends at Z{written}, and {count} others of the same cycle and tool end at Z{right}. Write Z{right} if the same depth is meant.',
    place:
      '{axis}{written} breaks the row of holes at {axis}{row}, where {axis}{right} would come. Write {axis}{right} if the row is meant.',
    level:
      'Z{written} breaks the steps to Z{row}, where Z{right} would come. Write Z{right} if the next step is meant.',
  },
  program(facts, report) {
    if (facts.lineCount > MOST_LINES) return;
    const { holes, levels } = rowsOf(facts);
    const told = new Set<string>();
    for (const section of holes) {
      judgeDepths(facts, report, section, holes, told);
      judgePlaces(facts, report, section, told);
    }
    for (const section of levels) judgeLevels(facts, report, section, told);
  },
});

/** A depth that one or two holes have, where all others of the same tool and cycle have another. */
const judgeDepths = (
  facts: ProgramFacts,
  report: ProgramReport,
  { items }: Section<Hole>,
  all: readonly Section<Hole>[],
  told: Set<string>,
): void => {
  if (items.length < AGREE + 1) return;
  const right = commonDepth(items);
  const odd = items.filter(({ z }) => !isSame(z, right));
  const [first] = odd;
  if (first === undefined || odd.length > DIFFER || items.length - odd.length < AGREE) return;
  if (!odd.every(({ z }) => isSame(z, first.z)) || slipBetween(first.z, right) === undefined) return;
  if (isDrilledTwice(first, all) || told.has(`Z ${first.line}`)) return;
  told.add(`Z ${first.line}`);
  const count = items.length - odd.length;
  tell(facts, report, 'depth', { letter: 'Z', line: first.line, written: first.z, right, unit: first.unit }, { count });
};

/** The depth that most holes have; any, where none has. */
const commonDepth = (items: readonly Hole[]): number => {
  const [a, b, c] = [items[0].z, items[1].z, items[2].z];
  return isSame(a, b) || isSame(a, c) ? a : b;
};

/** A place that is drilled a second time is a deep hole made in two. */
const isDrilledTwice = (hole: Hole, all: readonly Section<Hole>[]): boolean =>
  all.some(({ items }) => items.some((other) => other !== hole && isSame(other.x, hole.x) && isSame(other.y, hole.y)));

/** A hole out of an evenly spaced row. */
const judgePlaces = (facts: ProgramFacts, report: ProgramReport, { items }: Section<Hole>, told: Set<string>): void => {
  if (items.length < ROW) return;
  const places = { X: items.map(({ x }) => x), Y: items.map(({ y }) => y) };
  for (let first = 0; first + ROW <= items.length; first++) {
    for (const axis of ['X', 'Y'] as const) {
      const slip = slipInRow(places[axis], first);
      const other = places[axis === 'X' ? 'Y' : 'X'];
      if (slip === undefined || !isRow(other, first)) continue;
      if (slip.step === 0 && isSame(other[first], other[first + 1])) continue; // no row at all
      tellRow(facts, report, 'place', axis, places[axis], items[slip.place], slip, told);
    }
  }
};

/** A level out of even steps down (or up). */
const judgeLevels = (
  facts: ProgramFacts,
  report: ProgramReport,
  { items }: Section<Level>,
  told: Set<string>,
): void => {
  const values = items.map(({ z }) => z);
  for (let first = 0; first + ROW <= values.length; first++) {
    const slip = slipInRow(values, first);
    if (slip !== undefined && slip.step !== 0) {
      tellRow(facts, report, 'level', 'Z', values, items[slip.place], slip, told);
    }
  }
};

const tellRow = (
  facts: ProgramFacts,
  report: ProgramReport,
  message: string,
  letter: string,
  values: readonly number[],
  at: Level | Hole,
  slip: RowSlip,
  told: Set<string>,
): void => {
  const key = `${letter} ${at.line}`;
  if (told.has(key)) return;
  told.add(key);
  const { line, unit } = at;
  const beside = values.slice(slip.first, slip.first + ROW).filter((_, place) => slip.first + place !== slip.place);
  const row = slip.step === 0 ? short(beside[0], unit) : beside.map((value) => short(value, unit)).join(', ');
  tell(
    facts,
    report,
    message,
    { letter, line, written: values[slip.place], right: slip.right, unit },
    { row, axis: letter },
  );
};

const short = (value: number, unit: number): string => shortNumber(value / unit);

/** A number that is wrong, in mm, and the one that is right. */
interface Wrong {
  readonly letter: string;
  readonly line: number;
  readonly written: number;
  readonly right: number;
  readonly unit: number;
}

/** Reports at the word, with its repair where the word says the number itself; else at the block. */
const tell = (
  facts: ProgramFacts,
  report: ProgramReport,
  message: string,
  { letter, line, written, right, unit }: Wrong,
  more: Record<string, string | number>,
): void => {
  const text = facts.lineText(line);
  const data = { ...more, written: short(written, unit), right: short(right, unit) };
  const words = text.replace(/\([^)]*\)?/g, (remark) => ' '.repeat(remark.length)).split(';')[0];
  const word = new RegExp(`${letter}\\s*([-+]?[\\d.]+)(?![\\d.\\s]*[\\[#])`, 'i').exec(words);
  if (word === null) {
    report(message, line, text.length - text.trimStart().length, text.trimEnd().length, data);
    return;
  }
  const endColumn = word.index + word[0].length;
  const saysIt = isSame(Number(word[1]) * unit, written);
  const repaired = `${word[0][0]}${wordNumber(right / unit)}`;
  const edit = { lineOffset: 0, column: word.index, endColumn, text: repaired };
  const fixes: Fix[] = saysIt ? [{ title: `Write ${repaired}`, safe: false, edits: [edit] }] : [];
  report(message, line, word.index, endColumn, data, fixes);
};
