/**
 * Words of a program by what they mean where they stand, for colouring: an axis under rapid, the depth of a cycle, the
 * centre of an arc in the active plane. Lines and columns count from 0.
 */
import type { Analysis } from '../checks/analysis.ts';
import { codeTable } from '../machine/codes.ts';
import type { Configuration } from '../machine/configuration.ts';
import { Mode } from '../machine/modes.ts';
import { LONGEST_REMARK, locateThread, plainCapitals } from '../reference/threadName.ts';
import { Block, BlockKind, WordFlag } from '../syntax/block.ts';
import { BlockReader } from '../syntax/reader.ts';
import { headToken, jumpTokens, variableTokens } from './referencesTokens.ts';
import { ModesOfLines } from './semanticTokensModes.ts';
import { BlockWords, type TokenKind, type TokenModifier, type WordSurroundings } from './semanticTokensWords.ts';

/** A coloured stretch of a line. */
export interface SemanticToken {
  readonly line: number;
  readonly column: number;
  readonly endColumn: number;
  readonly kind: TokenKind;
  readonly modifiers: readonly TokenModifier[];
}

/** More lines than these are not coloured at once: a screen has a hundred. */
export const MOST_LINES = 10_000;

const NONE: readonly TokenModifier[] = [];
/** Variables from here on are the control's own. Common practice, no source. */
const FIRST_OWN_OF_CONTROL = 1000;

/** The words of the lines from `firstLine` to `lastLine` (both included), in order; at most `MOST_LINES` lines. The analysis must be up to date. */
export function semanticTokens(
  analysis: Analysis,
  { profile }: Configuration,
  firstLine: number,
  lastLine: number,
): SemanticToken[] {
  const end = Math.min(lastLine, analysis.lineCount - 1, firstLine + MOST_LINES - 1);
  const found: SemanticToken[] = [];
  if (end < firstLine) return found;
  const modes = new ModesOfLines(analysis, firstLine, end);
  const table = codeTable(profile);
  const reader = new BlockReader(profile);
  const block = new Block();
  for (let line = firstLine; line <= end; line++) {
    const text = analysis.lineText(line);
    reader.read(text, 0, text.length, block, undefined);
    if (block.kind === BlockKind.tapeMark) continue;
    const words = new BlockWords(block, table, profile, surroundings(modes, line));
    const own: Stretch[] = [];
    addHead(block, profile, own);
    addWords(block, words, own);
    addVariables(block, own);
    for (const { number, column, endColumn, kind } of jumpTokens(block, profile)) {
      if (kind === 'goto' && number !== undefined) own.push({ column, endColumn, kind: 'sequenceNumber' });
    }
    addThreads(block, own);
    own.sort((a, b) => a.column - b.column);
    let behind = 0;
    for (const { column, endColumn, kind, modifiers = NONE } of own) {
      if (column < behind || endColumn <= column) continue;
      found.push({ line, column, endColumn, kind, modifiers });
      behind = endColumn;
    }
  }
  return found;
}

type Stretch = Pick<SemanticToken, 'column' | 'endColumn' | 'kind'> & { readonly modifiers?: readonly TokenModifier[] };

/** What holds behind a line; on a line that is never reached only what it says itself. */
function surroundings(modes: ModesOfLines, line: number): WordSurroundings {
  const id = modes.after(line);
  if (id === undefined) return { motion: -1, cycle: 0, plane: 17, isIncremental: false };
  return {
    motion: modes.mode(id, Mode.motion),
    cycle: modes.mode(id, Mode.cycle),
    plane: modes.mode(id, Mode.plane),
    isIncremental: modes.mode(id, Mode.distance) === 91,
  };
}

function addHead(block: Block, profile: Configuration['profile'], found: Stretch[]): void {
  const head = headToken(block, profile);
  if (head === undefined) return;
  const kind = head.isProgram ? 'program' : 'sequenceNumber';
  found.push({ column: head.first, endColumn: head.endColumn, kind });
}

/** A word whose value is computed gives its letter; what stands behind it has its own colours. */
function addWords(block: Block, words: BlockWords, found: Stretch[]): void {
  for (let i = 0; i < block.wordCount; i++) {
    if ((block.flags[i] & WordFlag.bad) !== 0) continue;
    const kind = words.kindOf(i);
    if (kind === undefined) continue;
    const isComputed = (block.flags[i] & (WordFlag.computed | WordFlag.empty)) !== 0;
    const column = block.starts[i];
    const endColumn = isComputed ? column + 1 : block.ends[i];
    found.push({ column, endColumn, kind, modifiers: words.modifiersOf(kind) });
  }
}

function addVariables(block: Block, found: Stretch[]): void {
  for (const { name, isSet, column, endColumn } of variableTokens(block)) {
    const modifiers: TokenModifier[] = isSet ? ['modification'] : [];
    if (typeof name === 'number' && name >= FIRST_OWN_OF_CONTROL) modifiers.push('defaultLibrary');
    // Of `##1` the first sign stands for itself: the number behind it is a variable too.
    found.push({ column, endColumn: name === undefined ? column + 1 : endColumn, kind: 'variable', modifiers });
  }
}

/** The name of a thread in a remark: `M6X1`, `1/4-20 UNC`. */
function addThreads({ source, remarks }: Block, found: Stretch[]): void {
  for (let i = 0; i + 1 < remarks.length; i += 2) {
    const text = source.slice(remarks[i], remarks[i + 1]);
    if (text.length > LONGEST_REMARK) continue;
    const capitals = plainCapitals(text);
    const thread = capitals.length === text.length ? locateThread(capitals) : undefined;
    if (thread === undefined) continue;
    const column = remarks[i];
    found.push({ column: column + thread.start, endColumn: column + thread.end, kind: 'thread' });
  }
}
