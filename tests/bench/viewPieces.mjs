// The path of the bench's program as the server hands it over.
import { Analysis } from '../../server/src/core/checks/analysis.ts';
import { INDEX_CHUNK } from '../../server/src/core/geometry/pathRequest.ts';
import { packChunkFor } from '../../server/src/lsp/pathHandover.ts';

/** The list of a program's path, and its pieces in order. */
export function handOver(text) {
  const analysis = new Analysis(text);
  analysis.run();
  const ask = (chunk) => packChunkFor(analysis, { uri: 'file:///a.nc', version: 1, chunk, layer: 'program' });
  const index = JSON.parse(new TextDecoder().decode(ask(INDEX_CHUNK)));
  return { index, pieces: index.pieces.map(({ id }) => ({ id, data: ask(id) })) };
}
