/** Links on calls of programs in other files, see `core/features/links.ts`. */
import { type CancellationToken, type Connection, DocumentLink } from 'vscode-languageserver';
import { fileLinks } from '../core/features/links.ts';
import { spanRange } from './definition.ts';
import type { Server } from './server.ts';
import { inSlices } from './slices.ts';
import { upToDate } from './upToDate.ts';

/** Registers the handler. */
export function listenToDocumentLinks(connection: Connection, server: Server): void {
  connection.onDocumentLinks((params, token) => links(server, params, token));
}

async function links(server: Server, params: unknown, token: CancellationToken): Promise<DocumentLink[] | null> {
  const program = await upToDate(server, params, token);
  if (!program) return null;
  const work = () => inSlices(server, program, fileLinks(program.analysis, program.configuration), token);
  let found = await work();
  // Calls that the run never came to were looked up just now, and their files may have to be read.
  if (program.awaited !== undefined) {
    await server.runs.upToDate(program, token);
    found = await work();
  }
  const links = found.flatMap((link) => {
    const file = server.subprograms.fileOf(program, link.program);
    return file === undefined ? [] : [DocumentLink.create(spanRange(link), file.uri)];
  });
  return links.length > 0 ? links : null;
}
