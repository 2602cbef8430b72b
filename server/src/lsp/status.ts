/** The machine behind the block at the cursor, in one line of words. */
import type { CancellationToken, Connection } from 'vscode-languageserver';
import { type StatusAt, statusAt } from '../core/features/statusAt.ts';
import { programTime } from '../core/features/statusTime.ts';
import { lineWithin, positionOf } from './params.ts';
import { StatusRequest } from './protocol.ts';
import type { Server } from './server.ts';
import { inSlices } from './slices.ts';
import { upToDate } from './upToDate.ts';

/** Answers `blockwright/status`. */
export function listenToStatus(connection: Connection, server: Server): void {
  connection.onRequest(StatusRequest, (params, token) => status(server, params, token));
}

async function status(server: Server, params: unknown, token: CancellationToken): Promise<StatusAt | null> {
  const { line } = positionOf(params);
  const program = await upToDate(server, params, token);
  if (!program) return null;
  const { analysis, configuration } = program;
  lineWithin(line, analysis.lineCount);
  const time = await inSlices(server, program, programTime(analysis, configuration, line), token);
  return statusAt(analysis, line, time);
}
