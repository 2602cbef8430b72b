/** Words of a line of the program, for rules that look across the program: places, and repairs by word. */
import { Block, WordFlag } from '../../syntax/block.ts';
import { BlockReader } from '../../syntax/reader.ts';
import type { ProgramFacts, ProgramReport } from '../facts.ts';
import type { Fix, MessageData } from '../rule.ts';
import { wordsPlace } from './blockPlace.ts';
import { findCode, findWord } from './words.ts';

/** A line read again. Offsets of the block are columns of the line. */
export interface LineWords {
  readonly line: number;
  readonly block: Block;
}

/** Reads a line of the program. */
export const lineWords = (facts: ProgramFacts, line: number): LineWords => {
  const text = facts.lineText(line);
  const block = new Block();
  new BlockReader(facts.profile).read(text, 0, text.length, block, undefined);
  return { line, block };
};

/** A word that is looked for: a letter (`F`), or a G code (`G84`). */
export type WantedWord = string;

/** Index of a line's first word of a kind, −1 without. */
export const wantedWord = ({ block }: LineWords, wanted: WantedWord): number =>
  wanted.length > 1 ? findCode(block, [Number(wanted.slice(1)) * 10]) : findWord(block, wanted);

/** Index of a word whose number is written out and is `value`, −1 without. */
export const wordSaying = (words: LineWords, letter: string, value: number): number => {
  const index = wantedWord(words, letter);
  if (index < 0 || (words.block.flags[index] & (WordFlag.computed | WordFlag.bad)) !== 0) return -1;
  return Math.abs(words.block.values[index] - value) < 1e-9 ? index : -1;
};

/** A repair that changes words of one line, as text by index of the word. */
export const wordFix = (
  { block }: LineWords,
  title: string,
  ...changes: readonly (readonly [number, string])[]
): Fix => ({
  title,
  safe: false,
  edits: changes.map(([index, text]) => ({
    lineOffset: 0,
    column: block.starts[index],
    endColumn: block.ends[index],
    text,
  })),
});

/** Behind so many findings a rule's lines are not read again: nobody is told of more than a thousand. */
const MOST_READ = 2000;

/** Reports at the first of the wanted words that the line has, else at all its words; once a line and message. */
export class LineReporter {
  private readonly facts: ProgramFacts;
  private readonly report: ProgramReport;
  private readonly told = new Set<string>();

  constructor(facts: ProgramFacts, report: ProgramReport) {
    this.facts = facts;
    this.report = report;
  }

  /** True the first time it is asked for a key. */
  isNew(key: string): boolean {
    const isNew = !this.told.has(key);
    this.told.add(key);
    return isNew;
  }

  /** `fixes` are asked for only where the finding is told. */
  tell(
    message: string,
    line: number,
    wanted: readonly WantedWord[],
    data: MessageData,
    fixes: (words: LineWords) => readonly Fix[] = () => [],
  ): void {
    if (!this.isNew(`${line} ${message}`)) return;
    if (this.told.size > MOST_READ) {
      this.report(message, line, 0, 0, data);
      return;
    }
    const words = lineWords(this.facts, line);
    const index = wanted.map((word) => wantedWord(words, word)).find((word) => word >= 0) ?? -1;
    const place =
      index < 0
        ? wordsPlace(this.facts.lineText(line))
        : { start: words.block.starts[index], end: words.block.ends[index] };
    this.report(message, line, place.start, place.end, data, fixes(words));
  }
}
