/** What stands at a place of a program and stands for something elsewhere: a variable, a number, a loop, a word. */
import type { Analysis } from '../checks/analysis.ts';
import type { Loop } from '../checks/flow/layout.ts';
import type { ControlProfile } from '../machine/profile.ts';
import { type Block, BlockKind } from '../syntax/block.ts';
import type { VariableName } from '../syntax/variables.ts';
import {
  callToken,
  hasM,
  headToken,
  isInRemark,
  jumpTokens,
  type TokenSpan,
  textOf,
  variableTokens,
} from './referencesTokens.ts';

/** See the top of the file. Columns are those of what is meant. */
export type Subject = TokenSpan &
  (
    | { readonly kind: 'variable'; readonly name: VariableName | undefined; readonly isSet: boolean }
    | {
        readonly kind: 'sequence';
        readonly number: number | undefined;
        readonly role: 'label' | 'goto' | 'return' | 'call';
      }
    | { readonly kind: 'program'; readonly number: number | undefined; readonly role: 'head' | 'call' }
    | { readonly kind: 'loop'; readonly loop: Loop }
    | { readonly kind: 'return' }
    | { readonly kind: 'word'; readonly word: number }
    | { readonly kind: 'block' }
  );

const has = ({ column, endColumn }: TokenSpan, at: number): boolean => column <= at && at <= endColumn;

/** The subject at a column of a line, with the block as it was read there; undefined in remarks and beside the blocks. */
export const subjectAt = (
  analysis: Analysis,
  profile: ControlProfile,
  line: number,
  column: number,
): { readonly subject: Subject; readonly block: Block } | undefined => {
  const block = analysis.readBlock(line);
  if (block.kind === BlockKind.tapeMark || isInRemark(block, column)) return undefined;
  const subject = findSubject(analysis, block, profile, line, column);
  return subject && { subject, block };
};

const findSubject = (
  analysis: Analysis,
  block: Block,
  profile: ControlProfile,
  line: number,
  column: number,
): Subject | undefined => {
  const variable = variableTokens(block).find((token) => has(token, column));
  if (variable !== undefined) return { kind: 'variable', ...variable };
  const head = headToken(block, profile);
  if (head !== undefined && column >= head.first && column <= head.endColumn) {
    const { column: from, endColumn, number } = head;
    const span = { column: from, endColumn, number };
    return head.isProgram ? { kind: 'program', role: 'head', ...span } : { kind: 'sequence', role: 'label', ...span };
  }
  return ofFlow(analysis, block, line, column, profile) ?? ofCall(block, column, profile) ?? ofWord(block, column);
};

/** GOTO with its number, WHILE, DO and END. */
const ofFlow = (
  analysis: Analysis,
  block: Block,
  line: number,
  column: number,
  profile: ControlProfile,
): Subject | undefined => {
  const { flow } = block;
  if (flow === undefined) return undefined;
  const start = flow.start - block.start;
  if (!has({ column: start, endColumn: flow.end - block.start }, column)) return undefined;
  if (flow.kind === 'while' || flow.kind === 'end') {
    const { layout } = analysis;
    const loop = flow.kind === 'while' ? layout.loopAtHead(line) : layout.loopAtEnd(line);
    return loop && { kind: 'loop', loop, column: start, endColumn: flow.end - block.start };
  }
  const [jump] = jumpTokens(block, profile);
  if (jump === undefined) return undefined;
  const { number } = jump;
  // A computed number is that of the run's first pass.
  const target = number ?? (Number.isNaN(flow.target) ? undefined : flow.target);
  const { column: from, endColumn } = jump;
  return { kind: 'sequence', role: 'goto', number: target, column: from, endColumn };
};

/** M98 P, G65 P, M99, M99 P. */
const ofCall = (block: Block, column: number, profile: ControlProfile): Subject | undefined => {
  const call = callToken(block, profile);
  if (call !== undefined && isOnCall(block, column)) {
    const first = call.column + call.repeats.length;
    return { kind: 'program', role: 'call', number: call.number, column: first, endColumn: call.endColumn };
  }
  const [jump] = jumpTokens(block, profile);
  if (jump !== undefined && jump.kind !== 'goto' && isOnCall(block, column)) {
    const { kind, number, column: from, endColumn } = jump;
    return { kind: 'sequence', role: kind, number, column: from, endColumn };
  }
  const isReturn = profile.flow && (hasM(block, 99) || hasM(block, 17));
  const word = wordAt(block, column);
  return isReturn && word >= 0 && isLetter(block, word, 'M') ? { kind: 'return', ...spanOf(block, word) } : undefined;
};

/** True on the words that call: the code, P and L, not the arguments of a macro. */
const isOnCall = (block: Block, column: number): boolean => {
  const word = wordAt(block, column);
  return word >= 0 && ['G', 'M', 'P', 'L'].some((letter) => isLetter(block, word, letter));
};

const isLetter = (block: Block, word: number, letter: string): boolean =>
  block.letters[word] === letter.charCodeAt(0) - 65;

const spanOf = (block: Block, word: number): TokenSpan => ({
  column: block.starts[word] - block.start,
  endColumn: block.ends[word] - block.start,
});

/** The word at a column, −1 none. Right behind a word counts as on it. */
const wordAt = (block: Block, column: number): number => {
  let behind = -1;
  for (let word = 0; word < block.wordCount; word++) {
    const span = spanOf(block, word);
    if (column >= span.column && column < span.endColumn) return word;
    if (column === span.endColumn) behind = word;
  }
  return behind;
};

const ofWord = (block: Block, column: number): Subject | undefined => {
  const word = wordAt(block, column);
  if (word >= 0) return { kind: 'word', word, ...spanOf(block, word) };
  if (block.wordCount === 0) return undefined;
  const text = textOf(block);
  return { kind: 'block', column: text.length - text.trimStart().length, endColumn: text.trimEnd().length };
};
