/** Formatting: the whole program, some lines, and a line that was just finished with Enter. */
import {
  type CancellationToken,
  type Connection,
  MessageType,
  ShowMessageNotification,
  TextEdit,
} from 'vscode-languageserver';
import type { LineChange } from '../core/features/formatEdits.ts';
import { type Formatted, formatProgram, formatRange } from '../core/features/formatProgram.ts';
import type { ProofSource } from '../core/features/formatProof.ts';
import { lineWithin, positionOf, rangeOf } from './params.ts';
import type { Program } from './programs.ts';
import type { Server } from './server.ts';
import { inSlices } from './slices.ts';
import { upToDate } from './upToDate.ts';

/** Behind Enter the answer has to be there before the next word: longer programs are not executed again, lines. */
const LONGEST_WHILE_TYPING = 20_000;

/** Registers the handlers. */
export function listenToFormatting(connection: Connection, server: Server): void {
  const tell = (message: string): void => {
    void connection.sendNotification(ShowMessageNotification.type, { type: MessageType.Warning, message });
  };
  connection.onDocumentFormatting(async (params, token) => {
    const program = await upToDate(server, params, token);
    if (!program) return null;
    const style = await server.settings.styleFor(program.uri);
    const work = formatProgram(proofSource(server, program), style, program.configuration.blockNumbers);
    return told(await inSlices(server, program, work, token), tell);
  });
  connection.onDocumentRangeFormatting(async (params, token) => {
    const { start, end } = rangeOf(params);
    const program = await upToDate(server, params, token);
    if (!program) return null;
    lineWithin(end.line, program.analysis.lineCount);
    // A selection of whole lines ends at the beginning of the next one.
    const lastLine = end.character === 0 && end.line > start.line ? end.line - 1 : end.line;
    const style = await server.settings.styleFor(program.uri);
    const work = formatRange(proofSource(server, program), style, { firstLine: start.line, lastLine });
    return told(await inSlices(server, program, work, token), tell);
  });
  connection.onDocumentOnTypeFormatting((params, token) => finishedLine(server, params, token));
}

/** The line before the one that the cursor came to; that one is never touched. */
async function finishedLine(server: Server, params: unknown, token: CancellationToken): Promise<TextEdit[] | null> {
  const { line } = positionOf(params);
  const program = await upToDate(server, params, token);
  if (!program) return null;
  lineWithin(line, program.analysis.lineCount);
  if ((params as { ch?: unknown }).ch !== '\n' || line === 0) return null;
  const style = await server.settings.styleFor(program.uri);
  const range = { firstLine: line - 1, lastLine: line - 1 };
  const work = formatRange(proofSource(server, program), style, range, LONGEST_WHILE_TYPING);
  return told(await inSlices(server, program, work, token), () => undefined);
}

/** What a program is executed again with. */
export const proofSource = (server: Server, program: Program): ProofSource => ({
  analysis: program.analysis,
  configuration: program.configuration,
  host: server.subprograms.hostFor(program),
});

/** Changes of lines as edits. */
export const toLineEdits = (changes: readonly LineChange[]): TextEdit[] =>
  changes.map(({ line, column, endColumn, text }) =>
    TextEdit.replace({ start: { line, character: column }, end: { line, character: endColumn } }, text),
  );

/** The edits, and what there is to say about them. */
function told(formatted: Formatted, tell: (message: string) => void): TextEdit[] | null {
  if ('refusal' in formatted) {
    tell(`The program is left as it is. ${formatted.refusal.why}`);
    return null;
  }
  if (formatted.note !== undefined) tell(formatted.note);
  return formatted.changes.length > 0 ? toLineEdits(formatted.changes) : null;
}
