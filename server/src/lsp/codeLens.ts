/** Lenses: what comes of a tool, what is called, and above a generated block the form with its values. */
import type { CancellationToken, CodeLens, Connection } from 'vscode-languageserver';
import { formOf } from '../core/features/blockActions.ts';
import { nameInside, revisableBlocks } from '../core/features/generatedBlocks.ts';
import { type LineLens, lensSteps } from '../core/features/lenses.ts';
import { formCommand } from './blockActions.ts';
import type { Program } from './programs.ts';
import type { Server } from './server.ts';
import { inSlices } from './slices.ts';
import { upToDate } from './upToDate.ts';

/** Registers the handler. */
export function listenToCodeLens(connection: Connection, server: Server): void {
  connection.onCodeLens((params, token) => lenses(server, params, token));
}

async function lenses(server: Server, params: unknown, token: CancellationToken): Promise<CodeLens[] | null> {
  const program = await upToDate(server, params, token);
  if (!program || !(await server.settings.isOn(program.uri, 'codeLens'))) return null;
  // The question about the setting let messages in.
  await server.runs.upToDate(program, token);
  const found = await inSlices(server, program, lensSteps(program.analysis, program.configuration), token);
  const told = found.map((lens) => informing(program, lens));
  const all = server.client.hasBlockForm ? [...revisions(program), ...told] : told;
  return all.length > 0 ? all : null;
}

/** A lens that tells and does nothing: its command is none. */
const informing = (program: Program, { line, title }: LineLens): CodeLens => ({
  range: rangeOfLine(program, line),
  command: { title, command: '' },
});

/** A lens for each generated block of an up-to-date program. */
const revisions = (program: Program): CodeLens[] =>
  revisableBlocks(program.analysis).map((found) => ({
    range: rangeOfLine(program, found.block.firstLine),
    command: formCommand(`Revise ${nameInside(found.kind)}`, program.uri, formOf(found)),
  }));

const rangeOfLine = ({ analysis }: Program, line: number): CodeLens['range'] => ({
  start: { line, character: 0 },
  end: { line, character: analysis.lineText(line).length },
});
