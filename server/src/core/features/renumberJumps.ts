/** Where a program names its own block numbers: jumps, returns to a block, calls of a block. */
import type { Analysis } from '../checks/analysis.ts';
import { FactKind } from '../checks/facts.ts';
import { M, P } from '../machine/letters.ts';
import type { ControlProfile } from '../machine/profile.ts';
import { type Block, WordFlag } from '../syntax/block.ts';
import type { Refusal } from './formatEdits.ts';
import type { ReadLine } from './formatPieces.ts';

/**
 * A block number that is named in a line: columns of its figures, the line that it leads to (−1 none), and
 * the line that it is looked for from: of the jump itself, or of the call that a return goes back to.
 */
export interface Jump {
  readonly line: number;
  readonly column: number;
  readonly endColumn: number;
  readonly number: number;
  readonly from: number;
  readonly target: number;
}

/** The same where it is not known yet where it leads. */
type NamedNumber = Omit<Jump, 'from' | 'target'>;

const hasCode = (block: Block, code: number): boolean => {
  for (let i = 0; i < block.wordCount; i++) if (block.letters[i] === M && block.values[i] === code) return true;
  return false;
};

/** The block number that a line names, without its target; why nothing can be said where it is computed; undefined for none. */
export const namedNumber = (
  line: number,
  { text, block }: ReadLine,
  profile: ControlProfile,
): NamedNumber | Refusal | undefined => {
  const { flow } = block;
  const isComputed: Refusal = {
    line,
    why: `Line ${line + 1} works out the block number that it leads to, and would miss it under another number.`,
  };
  if (flow?.kind.endsWith('goto')) {
    const found = /(\d+)\.?\s*$/.exec(text.slice(flow.start, flow.end));
    if (found === null || /[\]#\d]\s*$/.test(text.slice(0, flow.start + found.index))) return isComputed;
    const column = flow.start + found.index;
    return { line, column, endColumn: column + found[1].length, number: Number(found[1]) };
  }
  const calls = profile.localCallCode >= 0 && hasCode(block, profile.localCallCode);
  if ((!calls && !hasCode(block, 99)) || !block.has(P)) return undefined;
  const word = block.slot[P];
  if ((block.flags[word] & WordFlag.computed) !== 0) return isComputed;
  const figures = /\d+/.exec(block.wordText(word));
  if (figures === null) return isComputed;
  const column = block.starts[word] + figures.index;
  return { line, column, endColumn: column + figures[0].length, number: Number(figures[0]) };
};

/** Where a named number leads; several where a program is called from several places. */
export const jumpsOf = (analysis: Analysis, named: NamedNumber, isReturn: boolean): Jump[] => {
  const { layout } = analysis;
  const { line, number } = named;
  const own = layout.unitOf(line);
  const from = (origin: number): Jump => ({ ...named, from: origin, target: layout.jumpTarget(number, origin) });
  if (!isReturn) return [from(line)];
  const calls = analysis.programFacts().of(FactKind.callTarget);
  const callers = calls.filter((call) => call.a === own.number && own.number >= 0);
  if (callers.length > 0) return [...new Set(callers.map((call) => call.line))].map(from);
  // A program that nothing here calls goes back to whoever does, unless it is the one that runs by itself.
  const isCalledFromElsewhere = analysis.isSubprogramFile || own !== layout.units[0];
  return isCalledFromElsewhere ? [] : [from(line)];
};

/** True where the block goes back by M99. */
export const isReturnBlock = (block: Block): boolean => hasCode(block, 99);

const RETURN_TO_BLOCK = /M0*99(?!\d)[^\n\r(;]*P|P\s*\d+[^\n\r(;]*M0*99(?!\d)/i;

/** Why numbers must stay where programs in other files, or the program itself, know them; undefined where they need not. */
export const knownElsewhere = (analysis: Analysis): Refusal | undefined => {
  const facts = analysis.programFacts();
  for (const { a: number, line } of facts.of(FactKind.callTarget)) {
    const text = facts.fileOfProgram(number);
    if (text === undefined || !RETURN_TO_BLOCK.test(text)) continue;
    return { line, why: `O${number}, called in line ${line + 1}, comes back to a block number of this program.` };
  }
  return undefined;
};
