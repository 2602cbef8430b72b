/** The answer to `blockwright/svg`: the path that the view shows, as a drawing to scale. */
import { type CancellationToken, LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import { seenSvg } from '../core/features/svgSeen.ts';
import { isPathDrawingRequest } from '../core/geometry/pathRequestDrawing.ts';
import { placeOf } from './addresses.ts';
import { invalidParams } from './params.ts';
import type { Server } from './server.ts';

/** Pieces of text between two chances for other messages. */
const PIECES = 16;

/** The drawing's text. A change of the program meanwhile makes the answer void, as the client cancelling does. */
export async function pathDrawing(server: Server, params: unknown, token: CancellationToken): Promise<{ svg: string }> {
  if (!isPathDrawingRequest(params)) throw invalidParams('svg needs uri, plane XY, ZX or YZ, and units mm or inch');
  const { uri, ...drawing } = params;
  const program = server.programs.need(uri);
  await server.runs.upToDate(program, token);
  const { runCount } = program;
  const name = placeOf(uri)?.name ?? uri.replace(/^.*[/:]/, '');
  const parts: string[] = [];
  let count = 0;
  for (const part of seenSvg(program.analysis, program.configuration, { ...drawing, name })) {
    parts.push(part);
    if (part === '' || ++count % PIECES === 0) {
      await server.host.pause();
      if (token.isCancellationRequested) throw new ResponseError(LSPErrorCodes.RequestCancelled, 'cancelled');
      if (program.isDirty || program.runCount !== runCount || program.isClosed)
        throw new ResponseError(LSPErrorCodes.ContentModified, 'the program has changed');
    }
  }
  return { svg: parts.join('') };
}
