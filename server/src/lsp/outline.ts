/** The outline: document symbols, and the outline of a program for whoever else needs it. */
import type { CancellationToken, Connection, DocumentSymbol, SymbolInformation } from 'vscode-languageserver';
import { type OutlineItem, outlineSteps } from '../core/features/outline.ts';
import { flatSymbols, toDocumentSymbol } from './convert.ts';
import type { Program } from './programs.ts';
import type { Server } from './server.ts';
import { inSlices } from './slices.ts';
import { upToDate } from './upToDate.ts';

/** Registers the handler. */
export function listenToOutline(connection: Connection, server: Server): void {
  connection.onDocumentSymbol((params, token) => symbols(server, params, token));
}

interface Known {
  readonly runCount: number;
  readonly items: readonly OutlineItem[];
}

/** An outline is asked for several ways at once: that of the last run is kept. */
const known = new WeakMap<Program, Known>();

/** The outline of an up-to-date program. */
export async function outlineIn(
  server: Server,
  program: Program,
  token: CancellationToken,
): Promise<readonly OutlineItem[]> {
  const { runCount } = program;
  const before = known.get(program);
  if (before?.runCount === runCount) return before.items;
  const items = await inSlices(server, program, outlineSteps(program.analysis, program.configuration), token);
  known.set(program, { runCount, items });
  return items;
}

async function symbols(
  server: Server,
  params: unknown,
  token: CancellationToken,
): Promise<DocumentSymbol[] | SymbolInformation[] | null> {
  const program = await upToDate(server, params, token);
  if (!program) return null;
  const { analysis } = program;
  const lineLength = (line: number) => analysis.lineText(line).length;
  const items = (await outlineIn(server, program, token)).map((item) => toDocumentSymbol(item, lineLength));
  if (items.length === 0) return null;
  return server.client.nestsSymbols ? items : flatSymbols(items, program.uri);
}
