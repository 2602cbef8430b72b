/** What the client asks: findings, hover, completions, outline, folding, quick fixes, the path. */
import {
  type CancellationToken,
  type CodeAction,
  CodeActionTriggerKind,
  type Connection,
  type DocumentDiagnosticReport,
  DocumentDiagnosticReportKind,
} from 'vscode-languageserver';
import { type FirstShopFile, firstShopFile, type ProgramTools, toolChangesOf } from '../core/features/firstShopFile.ts';
import { pathMoveAt } from '../core/features/pathMove.ts';
import { isPathMoveRequest, type PathMove } from '../core/geometry/pathRequestMove.ts';
import { type ArcRepairItem, arcRepairsIn } from './arcRepairs.ts';
import { Blocks } from './blocks.ts';
import { listenToCallHierarchy } from './callHierarchy.ts';
import { CodeActions } from './codeActions.ts';
import { listenToCodeLens } from './codeLens.ts';
import { listenToCompletion } from './completion.ts';
import { listenToDefinition } from './definition.ts';
import { listenToDocumentLinks } from './documentLinks.ts';
import { listenToExplain } from './explain.ts';
import { listenToFolding } from './folding.ts';
import { listenToFormatting } from './formatting.ts';
import { listenToHover } from './hover.ts';
import { listenToInlayHints } from './inlayHints.ts';
import { listenToOutline } from './outline.ts';
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
import { listenToReferences } from './references.ts';
import { listenToRename } from './rename.ts';
import { rewritingActions } from './rewritingActions.ts';
import { listenToSelectionRanges } from './selectionRanges.ts';
import { listenToSemanticTokens } from './semanticTokens.ts';
import type { Server } from './server.ts';
import { pathBelow } from './shopFiles.ts';
import { listenToSignatureHelp } from './signatureHelp.ts';
import { listenToStatus } from './status.ts';
import { upToDate } from './upToDate.ts';
import { listenToWorkspaceSymbols } from './workspaceSymbols.ts';

/** Registers the handlers. */
export function listenToRequests(connection: Connection, server: Server): void {
  connection.languages.diagnostics.on((params, token) => findings(server, params, token));
  listenToHover(connection, server);
  listenToFormatting(connection, server);
  listenToCompletion(connection, server);
  listenToSignatureHelp(connection, server);
  listenToSemanticTokens(connection, server);
  listenToStatus(connection, server);
  listenToExplain(connection, server);
  listenToOutline(connection, server);
  listenToFolding(connection, server);
  listenToSelectionRanges(connection, server);
  listenToDefinition(connection, server);
  listenToReferences(connection, server);
  listenToRename(connection, server);
  listenToCallHierarchy(connection, server);
  listenToDocumentLinks(connection, server);
  listenToWorkspaceSymbols(connection, server);
  connection.onCodeAction(async (params, token) => {
    const range = rangeOf(params);
    const program = await upToDate(server, params, token);
    if (!program) return null;
    lineWithin(range.end.line, program.analysis.lineCount);
    const only: unknown = params.context?.only;
    const isWanted = ({ kind = '' }: CodeAction): boolean =>
      !Array.isArray(only) || only.some((wanted) => wanted === '' || kind === wanted || kind.startsWith(`${wanted}.`));
    const isAsked = params.context?.triggerKind !== CodeActionTriggerKind.Automatic;
    const ofPlace = new CodeActions(server.client, server.host.rulePage).at(program, range, isAsked);
    const wanted = Array.isArray(only) ? only.filter((kind) => typeof kind === 'string') : undefined;
    const rewriting = await rewritingActions(server, program, { range, only: wanted, isAsked, token });
    const actions = [...ofPlace, ...rewriting].filter(isWanted);
    return actions.length > 0 ? actions : null;
  });
  listenToCodeLens(connection, server);
  listenToInlayHints(connection, server);
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
  const move = pathMoveAt(program.analysis, program.configuration, params);
  const uri = move?.origin && server.subprograms.addressOf(program, move.origin.file);
  return move?.origin && uri !== undefined ? { ...move, origin: { ...move.origin, uri } } : move;
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
  if (!server.client.refreshesFindings) {
    await server.runs.settled(program, token);
    if (server.client.fadesUnneeded) await server.unneeded.settled(program);
  }
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
