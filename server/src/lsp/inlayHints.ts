/** Hints between the words of a block. */
import type { CancellationToken, Connection, InlayHint } from 'vscode-languageserver';
import { HINT_KINDS, hintSteps, type InlayHintText } from '../core/features/inlayHints.ts';
import { lineWithin, rangeOf } from './params.ts';
import type { Server } from './server.ts';
import { inSlices } from './slices.ts';
import { upToDate } from './upToDate.ts';

/** Registers the handler. */
export function listenToInlayHints(connection: Connection, server: Server): void {
  connection.languages.inlayHint.on((params, token) => hints(server, params, token));
}

async function hints(server: Server, params: unknown, token: CancellationToken): Promise<InlayHint[] | null> {
  const { start, end } = rangeOf(params);
  const program = await upToDate(server, params, token);
  if (!program) return null;
  const kinds = await server.settings.thoseOn(program.uri, 'inlayHints', HINT_KINDS);
  if (kinds.size === 0) return null;
  // The question about the setting let messages in.
  await server.runs.upToDate(program, token);
  const { analysis, configuration } = program;
  lineWithin(start.line, analysis.lineCount);
  const last = Math.min(end.line, analysis.lineCount - 1);
  const found = await inSlices(server, program, hintSteps(analysis, configuration, start.line, last, kinds), token);
  return found.length > 0 ? found.map((hint) => toInlayHint(hint, analysis.lineText(hint.line))) : null;
}

/** Blanks around a hint: on the right only where the program has none. */
const toInlayHint = ({ line, column, label, tooltip }: InlayHintText, text: string): InlayHint => ({
  position: { line, character: column },
  label,
  tooltip,
  paddingLeft: true,
  ...(/\S/.test(text.charAt(column)) && { paddingRight: true }),
});
