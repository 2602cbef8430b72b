/** Flow statements: IF, WHILE, DO, END, GOTO. Read here, carried out by the executor. */
import { type Block, BlockKind, type FlowStatement } from './block.ts';
import { skipBlanks } from './characters.ts';
import type { BlockReader } from './reader.ts';
import type { Variables } from './variables.ts';

const KEYWORDS = ['IF', 'WHILE', 'DO', 'END', 'GOTO'] as const;

/** Reads a number, variable or expression at `from`; leaves the offset behind it in the reader's expressions. */
const operand = (reader: BlockReader, block: Block, from: number, variables: Variables | undefined): number => {
  reader.expressions.begin(block.source, from, block.end, variables, block.faults);
  return reader.expressions.operand();
};

/**
 * Reads a flow statement that begins at `start`. Returns the offset behind it, or `start` if there is none (then the
 * letters are words).
 */
export const readFlow = (
  reader: BlockReader,
  block: Block,
  start: number,
  variables: Variables | undefined,
): number => {
  const found = keywordFrom(block, start);
  if (found === undefined) return start;
  const { keyword } = found;
  const behind = skipBlanks(block.source, found.behind, block.end);
  if (!reader.profile.flow) {
    const text = block.source.slice(start, found.behind);
    block.faults.push({ code: 'bad-word', message: 'stray', start, end: block.end, data: { text } });
    return block.end;
  }
  block.kind = BlockKind.flow;
  switch (keyword) {
    case 'IF':
      return readIf(reader, block, start, behind, variables);
    case 'WHILE':
      return readWhile(reader, block, start, behind, variables);
    default: {
      const target = operand(reader, block, behind, variables);
      const kind = keyword === 'GOTO' ? 'goto' : keyword === 'END' ? 'end' : 'while';
      return finish(reader, block, { kind, start, end: 0, condition: 1, target });
    }
  }
};

const finish = (reader: BlockReader, block: Block, statement: FlowStatement): number => {
  const end = Math.max(reader.expressions.position, statement.start + 2);
  block.flow = { ...statement, end };
  return end;
};

/** Offset behind a keyword at `from`, blanks inside it passed over; −1 where it does not stand there. */
const behindKeyword = (block: Block, from: number, keyword: string): number => {
  let p = from;
  for (let i = 0; i < keyword.length; i++) {
    p = skipBlanks(block.source, p, block.end);
    if (p >= block.end || (block.source.charCodeAt(p) & ~32) !== keyword.charCodeAt(i)) return -1;
    p++;
  }
  return p;
};

/** The keyword that a block's letters from `start` make. With blanks inside, only where what must follow it does. */
const keywordFrom = (
  block: Block,
  start: number,
): { readonly keyword: (typeof KEYWORDS)[number]; readonly behind: number } | undefined => {
  for (const keyword of KEYWORDS) {
    const behind = behindKeyword(block, start, keyword);
    if (behind < 0) continue;
    const c = block.source.charCodeAt(skipBlanks(block.source, behind, block.end));
    const follows = c === 91 || (keyword !== 'IF' && keyword !== 'WHILE' && (c === 35 || (c >= 48 && c <= 57)));
    if (behind === start + keyword.length || follows) return { keyword, behind };
  }
  return undefined;
};

const missing = (block: Block, start: number, from: number): number => {
  const end = Math.max(from, start + 2);
  block.faults.push({
    code: 'bad-word',
    message: 'expression-malformed',
    start,
    end,
    data: { text: block.source.slice(start, end) },
  });
  return end;
};

const readIf = (
  reader: BlockReader,
  block: Block,
  start: number,
  from: number,
  variables: Variables | undefined,
): number => {
  const condition = operand(reader, block, from, variables);
  if (reader.expressions.broken) return Math.max(reader.expressions.position, start + 2);
  const p = skipBlanks(block.source, reader.expressions.position, block.end);
  const behindGoto = behindKeyword(block, p, 'GOTO');
  if (behindGoto >= 0) {
    const target = operand(reader, block, skipBlanks(block.source, behindGoto, block.end), variables);
    return finish(reader, block, { kind: 'if-goto', start, end: 0, condition, target });
  }
  const behindThen = behindKeyword(block, p, 'THEN');
  if (behindThen < 0) return missing(block, start, p);
  const assignment = skipBlanks(block.source, behindThen, block.end);
  if (block.source.charCodeAt(assignment) !== 35 || assignment >= block.end) return missing(block, start, behindThen);
  const unknownIn = Number.isNaN(condition) ? variables : undefined;
  const end = reader.assignment(block, assignment, condition === 1 ? variables : undefined, unknownIn);
  block.flow = { kind: 'if-then', start, end, condition, target: Number.NaN };
  return end;
};

const readWhile = (
  reader: BlockReader,
  block: Block,
  start: number,
  from: number,
  variables: Variables | undefined,
): number => {
  const condition = operand(reader, block, from, variables);
  if (reader.expressions.broken) return Math.max(reader.expressions.position, start + 2);
  const p = skipBlanks(block.source, reader.expressions.position, block.end);
  const behindDo = behindKeyword(block, p, 'DO');
  if (behindDo < 0) return missing(block, start, p);
  const target = operand(reader, block, skipBlanks(block.source, behindDo, block.end), variables);
  return finish(reader, block, { kind: 'while', start, end: 0, condition, target });
};
