/** Renaming, see `core/features/rename.ts`; what is refused is an error answer in words for the user. */
import {
  type CancellationToken,
  type Connection,
  LSPErrorCodes,
  Range,
  ResponseError,
  TextDocumentEdit,
  TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import { type RenameEdit, renameAt, renamePlaceAt } from '../core/features/rename.ts';
import { spanRange } from './definition.ts';
import { invalidParams, lineWithin, positionOf } from './params.ts';
import type { Server } from './server.ts';
import { siblingTexts } from './siblingPrograms.ts';
import { inSlices } from './slices.ts';
import { placeAsked, upToDate } from './upToDate.ts';

/** Registers the handlers. */
export function listenToRename(connection: Connection, server: Server): void {
  connection.onPrepareRename((params, token) => prepare(server, params, token));
  connection.onRenameRequest((params, token) => rename(server, params, token));
}

const refused = (why: string): ResponseError<void> => new ResponseError(LSPErrorCodes.RequestFailed, why);

async function prepare(
  server: Server,
  params: unknown,
  token: CancellationToken,
): Promise<{ range: Range; placeholder: string } | null> {
  const asked = await placeAsked(server, params, token);
  if (!asked) return null;
  const { program, line, column } = asked;
  const { analysis, configuration } = program;
  const place = renamePlaceAt(analysis, configuration, line, column);
  if (place === undefined) return null;
  if ('refusal' in place) throw refused(place.refusal);
  return { range: Range.create(line, place.column, line, place.endColumn), placeholder: place.placeholder };
}

async function rename(server: Server, params: unknown, token: CancellationToken): Promise<WorkspaceEdit | null> {
  const { line, character } = positionOf(params);
  const newName: unknown = (params as { newName?: unknown }).newName;
  if (typeof newName !== 'string') throw invalidParams('newName is missing');
  const program = await upToDate(server, params, token);
  if (!program) return null;
  lineWithin(line, program.analysis.lineCount);
  const { version } = program;
  const { texts: others, isWhole } = await siblingTexts(server, program);
  await server.runs.upToDate(program, token);
  if (program.version !== version) throw new ResponseError(LSPErrorCodes.ContentModified, 'the program has changed');
  const { analysis, configuration } = program;
  const column = Math.min(character, analysis.lineText(line).length);
  const work = renameAt({ analysis, configuration, line, others, isWhole }, column, newName);
  const renamed = await inSlices(server, program, work, token);
  if (renamed === undefined) return null;
  if ('refusal' in renamed) throw refused(renamed.refusal);
  const files = [{ uri: program.uri, version: program.version as number | null, edits: renamed.own }];
  for (const other of others) {
    const edits = renamed.others.get(other);
    if (edits !== undefined) files.push({ uri: other.uri, version: other.version, edits });
  }
  return workspaceEdit(
    files.filter(({ edits }) => edits.length > 0),
    server.client.versionsEdits,
  );
}

const textEdits = (edits: readonly RenameEdit[]): TextEdit[] =>
  edits.map((edit) => TextEdit.replace(spanRange(edit), edit.text));

function workspaceEdit(
  files: readonly { readonly uri: string; readonly version: number | null; readonly edits: readonly RenameEdit[] }[],
  versionsEdits: boolean,
): WorkspaceEdit {
  if (!versionsEdits) return { changes: Object.fromEntries(files.map(({ uri, edits }) => [uri, textEdits(edits)])) };
  return {
    documentChanges: files.map(({ uri, version, edits }) =>
      TextDocumentEdit.create({ uri, version }, textEdits(edits)),
    ),
  };
}
