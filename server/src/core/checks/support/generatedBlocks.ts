/** The generated blocks of a program, found by their remarks; and what takes these remarks out. */
import {
  type BrokenMarker,
  bodyCheck,
  type GeneratedBlock,
  MARKER_SIGN,
  parameterCheck,
  readMarkers,
} from '../../blocks/markers.ts';
import { FactKind, type ProgramFacts } from '../facts.ts';
import type { Fix, FixEdit } from '../rule.ts';

/** Which hand is in a block. */
export type Edited = 'body' | 'values' | 'both' | undefined;

/** Generated blocks and broken markers of a program, lines from 0. */
export interface MarkedBlocks {
  readonly blocks: readonly GeneratedBlock[];
  readonly broken: readonly BrokenMarker[];
}

type MarkerFacts = Pick<ProgramFacts, 'of' | 'lineText' | 'cutOffLine'>;

const NONE: MarkedBlocks = { blocks: [], broken: [] };
const byFacts = new WeakMap<MarkerFacts, MarkedBlocks>();

/** All generated blocks of a program. Costs nothing where no remark is a marker. */
export const generatedBlocks = (facts: MarkerFacts): MarkedBlocks => {
  const before = byFacts.get(facts);
  if (before !== undefined) return before;
  const found = find(facts);
  byFacts.set(facts, found);
  return found;
};

const find = (facts: MarkerFacts): MarkedBlocks => {
  const told = facts.of(FactKind.blockMarker);
  if (told.length === 0) return NONE;
  const lines = [...new Set(told.map(({ line }) => line))].sort((a, b) => a - b);
  // A called program's markers are told at the line of the call, which has none.
  const marked = lines
    .map((line) => ({ line, text: facts.lineText(line) }))
    .filter(({ text }) => MARKER_SIGN.test(text));
  const { blocks, broken } = readMarkers(marked);
  // Where the rest of the program was not read, a block may well be closed there.
  return facts.cutOffLine < 0 ? { blocks, broken } : { blocks, broken: broken.filter(({ why }) => why !== 'no-end') };
};

/** No block writes more lines than this: markers so far apart belong to two blocks whose inner ones are lost. */
const LONGEST_BODY = 200_000;

/** What was changed by hand in a block since it was written; undefined where nothing was; where a check value is lost, nothing can be said of what it is for. */
export const editedByHand = (lineText: (line: number) => string, block: GeneratedBlock): Edited => {
  const { bodyLine, lastLine, name, raw, body, parameters } = block;
  const hasBody = body !== '';
  const count = hasBody ? lastLine - bodyLine : 0;
  const lines = Array.from({ length: Math.min(count, LONGEST_BODY) }, (_, i) => lineText(bodyLine + i));
  const isBody = hasBody && (count > LONGEST_BODY || bodyCheck(lines) !== body.toUpperCase());
  const areValues = parameters !== '' && parameterCheck(name, raw) !== parameters.toUpperCase();
  return isBody && areValues ? 'both' : isBody ? 'body' : areValues ? 'values' : undefined;
};

/** Takes both remarks of a block out; what stands between them is left as it is. */
export const dropMarker = (facts: ProgramFacts, { firstLine, bodyLine, lastLine }: GeneratedBlock): Fix => {
  const lines = [...Array.from({ length: bodyLine - firstLine }, (_, i) => firstLine + i), lastLine];
  return dropRemarks(facts, 'Drop the marker', firstLine, lines);
};

/** Takes the markers of some lines out; the finding is told at `at`. */
export const dropRemarks = (facts: ProgramFacts, title: string, at: number, lines: readonly number[]): Fix => ({
  title,
  safe: false,
  edits: lines.map((line): FixEdit => {
    const text = facts.lineText(line);
    const { column, endColumn } = withSpaceBefore(text);
    const isAlone = text.slice(0, column).trim() === '' && text.slice(endColumn).trim() === '';
    const wholeLine = isAlone && line < facts.lineCount - 1;
    return {
      lineOffset: line - at,
      column: wholeLine ? 0 : column,
      endColumn: wholeLine ? text.length : endColumn,
      text: '',
      ...(wholeLine ? { wholeLine } : {}),
    };
  }),
});

/** Columns of the remark that is a marker, with its brackets. */
export const markerPlace = (text: string): { readonly column: number; readonly endColumn: number } => {
  const { column, endColumn } = withSpaceBefore(text);
  return { column: endColumn - text.slice(column, endColumn).trimStart().length, endColumn };
};

const withSpaceBefore = (text: string): { readonly column: number; readonly endColumn: number } => {
  const match = /\s*(?:\([^()]*BLOCKWRIGHT-(?:BLOCK|WITH|END)[^()]*\)?|(?:;|\/\/).*)/i.exec(text);
  if (match === null) return { column: 0, endColumn: text.length };
  return { column: match.index, endColumn: match.index + match[0].length };
};
