/** A block in plain sentences, and the blocks that cut at a place of the part. */
import type { CancellationToken, Connection } from 'vscode-languageserver';
import { blocksThatCut, type CuttingBlocks } from '../core/features/cutHere.ts';
import { readPoint } from '../core/features/cutHerePoint.ts';
import { explainBlock } from '../core/features/explain.ts';
import { Mode } from '../core/machine/modes.ts';
import { invalidParams, lineWithin, positionOf } from './params.ts';
import { BlocksAtRequest, ExplainRequest } from './protocol.ts';
import type { Server } from './server.ts';
import { inSlices } from './slices.ts';
import { upToDate } from './upToDate.ts';

/** Answers `blockwright/explain` and `blockwright/blocksAt`. */
export function listenToExplain(connection: Connection, server: Server): void {
  connection.onRequest(ExplainRequest, async (params: unknown, token) => {
    const { line } = positionOf(params);
    const program = await upToDate(server, params, token);
    if (!program) return null;
    const { analysis, configuration } = program;
    return explainBlock(analysis, configuration, lineWithin(line, analysis.lineCount));
  });
  connection.onRequest(BlocksAtRequest, (params, token) => blocksAt(server, params, token));
}

/** What is told of a text that names no point. */
const NO_POINT = 'Write the place as in a program, such as X10 Y20. Add Z where only cuts at that depth count.';

async function blocksAt(
  server: Server,
  params: unknown,
  token: CancellationToken,
): Promise<(CuttingBlocks & { problem?: string }) | null> {
  const text: unknown = (params as { point?: unknown } | null)?.point;
  if (typeof text !== 'string') throw invalidParams('point is missing');
  const { line } = positionOf(params);
  const program = await upToDate(server, params, token);
  if (!program) return null;
  const { analysis, configuration } = program;
  const { modes } = analysis.stateAfter(lineWithin(line, analysis.lineCount));
  const point = readPoint(text, modes[Mode.units] === 20 ? 25.4 : 1);
  if (point === undefined) return { blocks: [], more: 0, problem: NO_POINT };
  return inSlices(server, program, blocksThatCut(analysis, configuration, point), token);
}
