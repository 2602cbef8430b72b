/**
 * What a selection at a place grows to, step by step: word, block without its number and remark, line, operation, tool
 * section, program, all of the text. Lines and columns count from 0, ends exclusive.
 */
import type { Analysis } from '../checks/analysis.ts';
import type { Block } from '../syntax/block.ts';
import type { OutlineItem } from './outline.ts';

/** A stretch of the text. */
export interface TextSpan {
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
}

/** The stretches around a place from the smallest on, each larger than the one before and around it. */
export function selectionSpans(
  analysis: Analysis,
  outline: readonly OutlineItem[],
  line: number,
  column: number,
): TextSpan[] {
  const text = analysis.lineText(line);
  const inLine = columnsAround(analysis.readBlock(line), text, Math.min(column, text.length));
  const spans = inLine.map(([from, to]): TextSpan => ({ line, column: from, endLine: line, endColumn: to }));
  for (const item of itemsAround(outline, line)) {
    spans.push({ line: item.line, column: 0, endLine: item.endLine, endColumn: lengthOf(analysis, item.endLine) });
  }
  const last = analysis.lineCount - 1;
  spans.push({ line: 0, column: 0, endLine: last, endColumn: lengthOf(analysis, last) });
  return growing(spans);
}

const lengthOf = (analysis: Analysis, line: number): number => analysis.lineText(line).length;

/** The items that a line lies in, innermost first. */
function itemsAround(items: readonly OutlineItem[], line: number): OutlineItem[] {
  const item = items.find((one) => one.line <= line && line <= one.endLine);
  return item === undefined ? [] : [...itemsAround(item.children, line), item];
}

/** Columns from the word at a column on: word or remark, all words, the line's text, the line. */
function columnsAround(block: Block, text: string, column: number): [number, number][] {
  const found: [number, number][] = [];
  const take = (from: number, to: number): void => {
    if (from <= column && column <= to && from < to) found.push([from, to]);
  };
  for (let i = 0; i + 1 < block.remarks.length; i += 2) {
    const [from, to] = [block.remarks[i] - block.start, block.remarks[i + 1] - block.start];
    const inside = text.slice(from, to);
    const blanks = inside.length - inside.trimStart().length;
    take(from + blanks, from + Math.max(blanks, inside.trimEnd().length));
    const isBracket = text[from - 1] === '(';
    take(isBracket ? from - 1 : openingOf(text, from), to + (text[to] === ')' ? 1 : 0));
  }
  if (found.length === 0) {
    const word = wordAt(block, column);
    if (word !== undefined) take(word[0], word[1]);
  }
  const words = wordsOf(block, text);
  if (words !== undefined) take(words[0], words[1]);
  take(text.length - text.trimStart().length, text.trimEnd().length);
  take(0, text.length);
  return found;
}

/** Where a remark to the end of the line begins: `;` or `//`. */
const openingOf = (text: string, from: number): number =>
  text[from - 1] === ';' ? from - 1 : text.slice(from - 2, from) === '//' ? from - 2 : from;

/** The word at a column; one that ends there where none begins. */
function wordAt(block: Block, column: number): readonly [number, number] | undefined {
  const offset = block.start + column;
  let behind: readonly [number, number] | undefined;
  for (let i = 0; i < block.wordCount; i++) {
    const word = [block.starts[i] - block.start, block.ends[i] - block.start] as const;
    if (block.starts[i] <= offset && offset < block.ends[i]) return word;
    if (block.ends[i] === offset) behind = word;
  }
  return behind;
}

const NUMBER = /^\s*(?:\/\d?\s*)?(?:N\s*\d+)?\s*/i;

/** All words without sequence number and remarks; undefined where there are none. */
function wordsOf(block: Block, text: string): readonly [number, number] | undefined {
  const from = NUMBER.exec(text)?.[0].length ?? 0;
  // The last character that is in no remark.
  let to = text.length;
  for (let i = block.remarks.length - 2; i >= 0; i -= 2) {
    const [start, end] = [block.remarks[i] - block.start, block.remarks[i + 1] - block.start];
    if (text.slice(end + (text[end] === ')' ? 1 : 0), to).trim() !== '') break;
    to = text[start - 1] === '(' ? start - 1 : openingOf(text, start);
  }
  to = text.slice(0, to).trimEnd().length;
  return to > from ? [from, to] : undefined;
}

/** Leaves out what is no larger than the one before. */
function growing(spans: readonly TextSpan[]): TextSpan[] {
  const kept: TextSpan[] = [];
  for (const span of spans) {
    const last = kept[kept.length - 1];
    if (last === undefined || isAround(span, last)) kept.push(span);
  }
  return kept;
}

const isAround = (outer: TextSpan, inner: TextSpan): boolean => {
  const starts = outer.line < inner.line || (outer.line === inner.line && outer.column <= inner.column);
  const ends = outer.endLine > inner.endLine || (outer.endLine === inner.endLine && outer.endColumn >= inner.endColumn);
  const isSame =
    outer.line === inner.line &&
    outer.column === inner.column &&
    outer.endLine === inner.endLine &&
    outer.endColumn === inner.endColumn;
  return starts && ends && !isSame;
};
