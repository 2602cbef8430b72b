/**
 * Many generated blocks of one kind, written one behind the other and executed in one program: what a property test of
 * thousands of cases needs, since each block by itself costs a program of its own. Nothing is proved here: that is for `runBlock`.
 */
import { BlockWriter } from '../../server/src/core/blocks/blockWriter.ts';
import type { BlockContext } from '../../server/src/core/blocks/context.ts';
import { BlockPlan } from '../../server/src/core/blocks/plan.ts';
import { entryLines } from '../../server/src/core/blocks/prove.ts';
import { readValues } from '../../server/src/core/blocks/readValues.ts';
import { blockByName } from '../../server/src/core/blocks/registry.ts';
import { Analysis } from '../../server/src/core/checks/analysis.ts';
import { type TracedMove, tracedMoves } from '../../server/src/core/features/trace.ts';

/** One block of a batch. */
export interface BatchBlock {
  readonly lines: readonly string[];
  readonly moves: readonly TracedMove[];
  readonly plan: BlockPlan;
}

/**
 * Writes and executes blocks that all begin in the same modes; that each puts them back is what the next one lives on.
 * @throws with the problems of a block that cannot be written, and with the first error that the checks find
 */
export const runBatch = (
  name: string,
  raws: readonly Readonly<Record<string, string | number>>[],
  context: BlockContext,
): BatchBlock[] => {
  const written = raws.map((raw) => writeOne(name, raw, context));
  const head = entryLines(context);
  const analysis = new Analysis(
    [...head, ...written.flatMap(({ lines }) => lines), ''].join('\n'),
    context.configuration,
  );
  analysis.run();
  const error = analysis.findings().findings.find(({ severity, line }) => severity === 'error' && line >= head.length);
  if (error !== undefined) throw new Error(`${analysis.lineText(error.line)}: ${error.message}`);
  const byLine = new Map<number, TracedMove[]>();
  for (const move of tracedMoves(analysis)) {
    const moves = byLine.get(move.line) ?? [];
    moves.push(move);
    byLine.set(move.line, moves);
  }
  let first = head.length;
  return written.map(({ lines, plan }) => {
    const start = first;
    first += lines.length;
    const moves = lines
      .flatMap((_, i) => byLine.get(start + i) ?? [])
      .map((move) => ({ ...move, line: move.line - start }));
    return { lines, plan, moves };
  });
};

const writeOne = (name: string, raw: Readonly<Record<string, string | number>>, context: BlockContext) => {
  const kind = blockByName(name);
  if (kind === undefined) throw new Error(`There is no block ${name}.`);
  const texts = Object.fromEntries(Object.entries(raw).map(([key, value]) => [key, String(value)]));
  const { values, problems } = readValues(kind.parameters, texts, false);
  const plan = new BlockPlan(context);
  plan.problems.push(...problems);
  const write = problems.length > 0 ? undefined : kind.plan(values, plan);
  if (write === undefined || plan.problems.length > 0)
    throw new Error(`${name} ${JSON.stringify(raw)}: ${plan.problems.map(({ message }) => message).join(' | ')}`);
  const writer = new BlockWriter(context);
  writer.setModes();
  write(writer);
  writer.restore(plan.endHeight ?? Number.NaN);
  return { lines: writer.lines, plan };
};
