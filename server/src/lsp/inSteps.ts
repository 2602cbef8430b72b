/** Work on a whole program that lets messages in between. */
import { type CancellationToken, LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import type { Program } from './programs.ts';
import type { Server } from './server.ts';

/** Does all steps with a pause after each; a change of the program meanwhile makes the answer void. */
export async function inSteps<Result>(
  server: Server,
  program: Program,
  steps: Generator<undefined, Result>,
  token: CancellationToken,
): Promise<Result> {
  const { runCount } = program;
  let step = steps.next();
  while (!step.done) {
    await server.host.pause();
    if (token.isCancellationRequested) throw new ResponseError(LSPErrorCodes.RequestCancelled, 'cancelled');
    if (program.isDirty || program.runCount !== runCount || program.isClosed) {
      throw new ResponseError(LSPErrorCodes.ContentModified, 'the program has changed');
    }
    step = steps.next();
  }
  return step.value;
}
