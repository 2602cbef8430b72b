/** Generated blocks in tests: made, executed, and their path move by move. */

import { type BlockContext, contextAlone } from '../../server/src/core/blocks/context.ts';
import { type GenerationResult, generateBlock } from '../../server/src/core/blocks/generate.ts';
import { entryLines } from '../../server/src/core/blocks/prove.ts';
import { blockByName } from '../../server/src/core/blocks/registry.ts';
import { Analysis } from '../../server/src/core/checks/analysis.ts';
import type { Finding } from '../../server/src/core/checks/findings.ts';
import { type TracedMove, tracedMoves } from '../../server/src/core/features/trace.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../../server/src/core/machine/configuration.ts';
import type { ControlProfile } from '../../server/src/core/machine/profile.ts';

/** A block as it came out, executed behind the modes it was made for. */
export interface ExecutedBlock extends GenerationResult {
  readonly lines: readonly string[];
  /** Moves of the block alone; lines count from its first. */
  readonly moves: readonly TracedMove[];
  readonly findings: readonly Finding[];
}

/** Makes a block by name from values as on the command line. @throws where there is no such block */
export const makeBlock = (
  name: string,
  raw: Readonly<Record<string, string | number>>,
  context: BlockContext = contextAlone(DEFAULT_CONFIGURATION),
): GenerationResult => {
  const kind = blockByName(name);
  if (kind === undefined) throw new Error(`There is no block ${name}.`);
  return generateBlock(
    kind,
    Object.fromEntries(Object.entries(raw).map(([key, value]) => [key, String(value)])),
    context,
  );
};

/** Makes and executes a block. @throws with the problems where it cannot be made */
export const runBlock = (
  name: string,
  raw: Readonly<Record<string, string | number>>,
  context: BlockContext = contextAlone(DEFAULT_CONFIGURATION),
): ExecutedBlock => {
  const result = makeBlock(name, raw, context);
  const { lines } = result;
  if (lines === undefined)
    throw new Error(`${name} ${JSON.stringify(raw)}: ${result.problems.map(({ message }) => message).join(' | ')}`);
  const head = entryLines(context);
  const analysis = new Analysis([...head, ...lines, ''].join('\n'), context.configuration);
  analysis.run();
  const first = head.length;
  const moves = [...tracedMoves(analysis, { firstLine: first, lastLine: first + lines.length - 1 })].map((move) => ({
    ...move,
    line: move.line - first,
  }));
  const findings = analysis
    .findings()
    .findings.filter((finding) => finding.line >= first && finding.line < first + lines.length)
    .map((finding) => ({ ...finding, line: finding.line - first, endLine: finding.endLine - first }));
  return { ...result, lines, moves, findings };
};

/** A block that stands alone under another profile, or other units. */
export const contextUnder = (
  profile: ControlProfile,
  units?: 'mm' | 'inch',
  more: Partial<Configuration> = {},
): BlockContext => contextAlone({ ...DEFAULT_CONFIGURATION, profile, ...more }, units);
