/** Flow statements: IF, WHILE, DO, END, GOTO. Read here, carried out by the executor. */
import { type Block, BlockKind, type FlowStatement } from './block.ts';
import type { BlockReader } from './reader.ts';
import type { Variables } from './variables.ts';

const KEYWORDS = ['IF', 'WHILE', 'DO', 'END', 'GOTO'] as const;

const skip = (source: string, from: number, end: number): number => {
  let p = from;
  while (p < end && (source.charCodeAt(p) === 32 || source.charCodeAt(p) === 9)) p++;
  return p;
};

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
  const head = block.source.slice(start, Math.min(start + 5, block.end)).toUpperCase();
  const keyword = KEYWORDS.find((word) => head.startsWith(word));
  if (keyword === undefined) return start;
  const behind = skip(block.source, start + keyword.length, block.end);
  if (!reader.profile.flow) {
    const text = block.source.slice(start, start + keyword.length);
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

const keywordAt = (block: Block, from: number, keyword: string): boolean =>
  block.source.slice(from, Math.min(from + keyword.length, block.end)).toUpperCase() === keyword;

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
  const p = skip(block.source, reader.expressions.position, block.end);
  if (keywordAt(block, p, 'GOTO')) {
    const target = operand(reader, block, skip(block.source, p + 4, block.end), variables);
    return finish(reader, block, { kind: 'if-goto', start, end: 0, condition, target });
  }
  if (!keywordAt(block, p, 'THEN')) return missing(block, start, p);
  const assignment = skip(block.source, p + 4, block.end);
  if (block.source.charCodeAt(assignment) !== 35 || assignment >= block.end) return missing(block, start, p + 4);
  const end = reader.assignment(block, assignment, condition === 1 ? variables : undefined);
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
  const p = skip(block.source, reader.expressions.position, block.end);
  if (!keywordAt(block, p, 'DO')) return missing(block, start, p);
  const target = operand(reader, block, skip(block.source, p + 2, block.end), variables);
  return finish(reader, block, { kind: 'while', start, end: 0, condition, target });
};
