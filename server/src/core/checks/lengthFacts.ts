/** Facts about tool lengths: what each tool's first cut runs with, and which registers are called. */
import { Mode } from '../machine/modes.ts';
import { letterIndex } from '../syntax/block.ts';
import { type Fact, FactKind } from './facts.ts';
import type { RuleContext } from './rule.ts';
import { toolInSpindle } from './support/toolInSpindle.ts';
import { isPlain } from './support/words.ts';

const M = letterIndex('M');
const H = letterIndex('H');

/** True where the block changed the tool, or whether or by which register its length counts. */
export const lengthChanged = ({ modes, before, block }: RuleContext): boolean =>
  modes[Mode.tool] !== before[Mode.tool] ||
  modes[Mode.lengthCompensation] !== before[Mode.lengthCompensation] ||
  modes[Mode.lengthRegister] !== before[Mode.lengthRegister] ||
  changesTool(block);

/** True for a block with M6. */
export const changesTool = (block: RuleContext['block']): boolean => {
  if (!block.has(M)) return false;
  for (let i = 0; i < block.wordCount; i++) if (block.letters[i] === M && block.values[i] === 6) return true;
  return false;
};

const fact = (
  kind: Fact['kind'],
  line: number,
  column: number,
  endColumn: number,
  numbers: number[],
  text: string,
): Fact => {
  const [a, b, c] = numbers;
  return { kind, line, column, endColumn, a, b, c, d: 0, e: 0, text };
};

/** The first cut since tool or tool length were changed. */
export const cutFact = (context: RuleContext, line: number): Fact => {
  const { block, modes } = context;
  const first = block.wordCount > 0 ? block.starts[0] : block.start;
  const last = block.wordCount > 0 ? block.ends[block.wordCount - 1] : block.end;
  const numbers = [modes[Mode.tool], modes[Mode.lengthCompensation], modes[Mode.lengthRegister]];
  const kind = toolInSpindle(context)?.kind ?? '';
  return fact(FactKind.toolCut, line, first - block.start, last - block.start, numbers, kind);
};

/** The call of a register by G43 or G44; none where no length counts or the number is not known. */
export const callFacts = (context: RuleContext, line: number): Fact[] => {
  const { block, modes } = context;
  const word = block.slot[H];
  const register = block.values[word];
  if (modes[Mode.lengthCompensation] === 49 || Number.isNaN(register)) return [];
  const [start, end] = [block.starts[word] - block.start, block.ends[word] - block.start];
  const text = isPlain(block, word) ? '' : 'computed';
  return [fact(FactKind.lengthCall, line, start, end, [register, modes[Mode.tool], 0], text)];
};
