/**
 * Long work on a text, for one answer: other messages are let in between its steps, and an edit meanwhile makes it void. What is
 * found in the same text while nobody types does not: a program being formatted as it is saved must not be left as it was.
 */
import { type CancellationToken, LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import type { Program } from './programs.ts';
import type { Server } from './server.ts';

/** Takes all steps of a work and gives its outcome. @throws the error answer where it is cancelled or void */
export async function inSlices<Outcome>(
  server: Server,
  program: Program,
  work: Generator<undefined, Outcome>,
  token: CancellationToken,
): Promise<Outcome> {
  const { version } = program;
  let step = work.next();
  while (!step.done) {
    await server.host.pause();
    if (token.isCancellationRequested) throw new ResponseError(LSPErrorCodes.RequestCancelled, 'cancelled');
    if (program.isDirty || program.isClosed || program.version !== version) {
      throw new ResponseError(LSPErrorCodes.ContentModified, 'the program has changed');
    }
    step = work.next();
  }
  return step.value;
}
