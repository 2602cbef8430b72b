/** What the client asks: findings, hover, completions, outline, folding, quick fixes, the path. */
import {
  type CancellationToken,
  type CodeAction,
  CodeActionTriggerKind,
  type Connection,
  type DocumentDiagnosticReport,
  DocumentDiagnosticReportKind,
  type DocumentSymbol,
  type FoldingRange,
  LSPErrorCodes,
  ResponseError,
  type SymbolInformation,
} from 'vscode-languageserver';
import { type FirstShopFile, firstShopFile, type ProgramTools, toolChangesOf } from '../core/features/firstShopFile.ts';
import { type Folding, foldings } from '../core/features/folding.ts';
import { outlineOf } from '../core/features/outline.ts';
import { pathMoveAt } from '../core/features/pathMove.ts';
import { isPathMoveRequest, type PathMove } from '../core/geometry/pathRequestMove.ts';
import { type ArcRepairItem, arcRepairsIn } from './arcRepairs.ts';
import { Blocks } from './blocks.ts';
import { CodeActions } from './codeActions.ts';
import { codeLensesOf } from './codeLens.ts';
import { listenToCompletion } from './completion.ts';
import { flatSymbols, toDocumentSymbol, toFoldingRange } from './convert.ts';
import { listenToHover } from './hover.ts';
import { invalidParams, lineWithin, positionOf, rangeOf, uriOf } from './params.ts';
import { pathDrawing } from './pathDrawing.ts';
import { answerPathRequest } from './pathHandover.ts';
import {
  ArcRepairsRequest,
  BlockFormRequest,
  BlockRequest,
  BlocksRequest,
  FirstShopFileRequest,
  PathDrawingRequestType,
  PathMoveRequestType,
  PathRequestType,
} from './protocol.ts';
import type { Server } from './server.ts';
import { pathBelow } from './shopFiles.ts';
import { listenToSignatureHelp } from './signatureHelp.ts';
import { upToDate } from './upToDate.ts';

/** Registers the handlers. */
export function listenToRequests(connection: Connection, server: Server): void {
  connection.languages.diagnostics.on((params, token) => findings(server, params, token));
  listenToHover(connection, server);
  listenToCompletion(connection, server);
  listenToSignatureHelp(connection, server);
  connection.onDocumentSymbol((params, token) => symbols(server, params, token));
  connection.onFoldingRanges((params, token) => folding(server, params, token));
  connection.onCodeAction(async (params, token) => {
    const range = rangeOf(params);
    const program = await upToDate(server, params, token);
    if (!program) return null;
    lineWithin(range.end.line, program.analysis.lineCount);
    const only: unknown = params.context?.only;
    const isWanted = ({ kind = '' }: CodeAction): boolean =>
      !Array.isArray(only) || only.some((wanted) => wanted === '' || kind === wanted || kind.startsWith(`${wanted}.`));
    const isAsked = params.context?.triggerKind !== CodeActionTriggerKind.Automatic;
    const actions = new CodeActions(server.client, server.host.rulePage).at(program, range, isAsked).filter(isWanted);
    return actions.length > 0 ? actions : null;
  });
  connection.onCodeLens(async (params, token) => {
    const program = await upToDate(server, params, token);
    return program ? codeLensesOf(program) : null;
  });
  connection.onRequest(ArcRepairsRequest, (params, token) => repairsOfArc(server, params, token));
  const blocks = new Blocks((params, token) => upToDate(server, params, token));
  connection.onRequest(BlocksRequest, (params, token) => blocks.kinds(params, token));
  connection.onRequest(BlockFormRequest, (params, token) => blocks.form(params, token));
  connection.onRequest(BlockRequest, (params, token) => blocks.block(params, token));
  connection.onRequest(FirstShopFileRequest, (params, token) => firstFile(server, params, token));
  connection.onRequest(PathMoveRequestType, (params, token) => pathMove(server, params, token));
  connection.onRequest(PathDrawingRequestType, (params, token) => pathDrawing(server, params, token));
  connection.onRequest(PathRequestType, async (params, token) => {
    const uri: unknown = params?.uri;
    if (typeof uri !== 'string') throw invalidParams('uri is missing');
    await server.runs.upToDate(server.programs.need(uri), token);
    try {
      return answerPathRequest({ chunk: -1, ...params }, server.lookUpPath);
    } catch (error) {
      throw invalidParams(error instanceof Error ? error.message : String(error));
    }
  });
}

async function pathMove(server: Server, params: unknown, token: CancellationToken): Promise<PathMove | null> {
  if (!isPathMoveRequest(params)) throw invalidParams('pathMove needs uri and line; pass is 1 or 2, at is X Y Z');
  const program = server.programs.need(params.uri);
  await server.runs.upToDate(program, token);
  lineWithin(params.line, program.analysis.lineCount);
  return pathMoveAt(program.analysis, program.configuration, params);
}

/** The first shop's file for a folder, from the open programs. */
async function firstFile(server: Server, params: unknown, token: CancellationToken): Promise<FirstShopFile> {
  const folder: unknown = (params as { folder?: unknown } | null)?.folder;
  if (typeof folder !== 'string') throw invalidParams('folder is missing');
  const inside = folder.endsWith('/') ? folder : `${folder}/`;
  const all = [...server.programs.all()];
  const own = all.filter((program) => program.uri.startsWith(inside));
  const programs: ProgramTools[] = [];
  for (const program of own.length > 0 ? own : all) {
    await server.runs.upToDate(program, token);
    programs.push({
      name: pathBelow(`${inside}blockwright.json`, program.uri),
      changes: toolChangesOf(program.analysis),
    });
  }
  return firstShopFile(programs);
}

async function repairsOfArc(server: Server, params: unknown, token: CancellationToken): Promise<ArcRepairItem[]> {
  const { line } = positionOf(params);
  const program = await upToDate(server, params, token);
  if (!program) return [];
  lineWithin(line, program.analysis.lineCount);
  return arcRepairsIn(program, line);
}

async function findings(server: Server, params: unknown, token: CancellationToken): Promise<DocumentDiagnosticReport> {
  const program = await upToDate(server, params, token);
  if (!program) return { kind: DocumentDiagnosticReportKind.Full, items: await server.problemsOf(uriOf(params)) };
  // Who cannot be told to ask again waits for all of them.
  if (!server.client.refreshesFindings) await server.runs.settled(program, token);
  let report = server.reports.of(program);
  // Also calls that the run never reached are looked up, and may have to be read.
  while (program.awaited !== undefined) {
    await server.runs.upToDate(program, token);
    report = server.reports.of(program);
  }
  const { resultId, items } = report;
  if ((params as { previousResultId?: unknown }).previousResultId === resultId) {
    return { kind: DocumentDiagnosticReportKind.Unchanged, resultId };
  }
  return { kind: DocumentDiagnosticReportKind.Full, resultId, items };
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
  const items = outlineOf(analysis, program.configuration.tools).map((item) => toDocumentSymbol(item, lineLength));
  if (items.length === 0) return null;
  return server.client.nestsSymbols ? items : flatSymbols(items, program.uri);
}

/** Reads the whole text, so it lets messages in between; a change meanwhile makes the answer void. */
async function folding(server: Server, params: unknown, token: CancellationToken): Promise<FoldingRange[] | null> {
  const program = await upToDate(server, params, token);
  if (!program) return null;
  const { runCount } = program;
  const scan = foldings(program.analysis);
  let step: IteratorResult<undefined, Folding[]> = scan.next();
  while (!step.done) {
    await server.host.pause();
    if (token.isCancellationRequested) throw new ResponseError(LSPErrorCodes.RequestCancelled, 'cancelled');
    if (program.isDirty || program.runCount !== runCount || program.isClosed) {
      throw new ResponseError(LSPErrorCodes.ContentModified, 'the program has changed');
    }
    step = scan.next();
  }
  const found = step.value.slice(0, server.client.foldingLimit).map(toFoldingRange);
  return found.length > 0 ? found : null;
}
