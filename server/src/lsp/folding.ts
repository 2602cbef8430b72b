/** What an editor can fold. */
import type { CancellationToken, Connection, FoldingRange } from 'vscode-languageserver';
import { foldings } from '../core/features/folding.ts';
import { toFoldingRange } from './convert.ts';
import { outlineIn } from './outline.ts';
import type { Server } from './server.ts';
import { inSlices } from './slices.ts';
import { upToDate } from './upToDate.ts';

/** Registers the handler. */
export function listenToFolding(connection: Connection, server: Server): void {
  connection.onFoldingRanges((params, token) => folding(server, params, token));
}

/** Reads the whole text, so it lets messages in between. */
async function folding(server: Server, params: unknown, token: CancellationToken): Promise<FoldingRange[] | null> {
  const program = await upToDate(server, params, token);
  if (!program) return null;
  const outline = await outlineIn(server, program, token);
  const found = await inSlices(server, program, foldings(program.analysis, outline), token);
  const ranges = found.slice(0, server.client.foldingLimit).map(toFoldingRange);
  return ranges.length > 0 ? ranges : null;
}
