/** Who calls a program and whom it calls, see `core/features/callHierarchy.ts`. */
import {
  type CallHierarchyIncomingCall,
  type CallHierarchyItem,
  type CallHierarchyOutgoingCall,
  type CancellationToken,
  type Connection,
  Range,
  SymbolKind,
} from 'vscode-languageserver';
import { calledBy, callersIn, type ProgramItem, programItem, programMeantAt } from '../core/features/callHierarchy.ts';
import { type ProgramText, textOfAnalysis, textOfFile } from '../core/features/referencesText.ts';
import { placeOf } from './addresses.ts';
import { spanRange } from './definition.ts';
import { invalidParams } from './params.ts';
import type { Program } from './programs.ts';
import type { Server } from './server.ts';
import { callersAmong, isFoundByNumber, siblingTexts } from './siblingPrograms.ts';
import { inSlices } from './slices.ts';
import { placeAsked } from './upToDate.ts';

/** What an item brings back: its number and line, and the open program that it was found from. */
interface ItemData {
  readonly number: number;
  readonly line: number;
  readonly from: string;
}

/** Registers the handlers. */
export function listenToCallHierarchy(connection: Connection, server: Server): void {
  const { callHierarchy } = connection.languages;
  callHierarchy.onPrepare((params, token) => prepare(server, params, token));
  callHierarchy.onIncomingCalls(({ item }, token) => incoming(server, item, token));
  callHierarchy.onOutgoingCalls(({ item }, token) => outgoing(server, item, token));
}

async function prepare(server: Server, params: unknown, token: CancellationToken): Promise<CallHierarchyItem[] | null> {
  const asked = await placeAsked(server, params, token);
  if (!asked) return null;
  const { program, line, column } = asked;
  const { analysis, configuration } = program;
  const text = textOfAnalysis(analysis, configuration.profile);
  const meant = programMeantAt(analysis, configuration, text, line, column);
  if (meant === undefined) return null;
  if (!('called' in meant)) return [toItem(program, program.uri, text, meant)];
  const item = itemInFile(server, program, meant.called);
  return item === undefined ? null : [item];
}

const toItem = (program: Program, uri: string, text: ProgramText, item: ProgramItem): CallHierarchyItem => {
  const { number, remark, firstLine, lastLine, head } = item;
  const data: ItemData = { number, line: head.line, from: program.uri };
  const file = placeOf(uri)?.name ?? uri.slice(uri.lastIndexOf('/') + 1);
  return {
    name: number < 0 ? file : `O${number}`,
    detail: remark === '' ? file : remark,
    kind: SymbolKind.Module,
    uri,
    range: Range.create(firstLine, 0, lastLine, text.lineText(lastLine).length),
    selectionRange: spanRange(head),
    data,
  };
};

/** A program that is in a file of its own. */
const itemInFile = (server: Server, program: Program, number: number): CallHierarchyItem | undefined => {
  const file = server.subprograms.fileOf(program, number);
  if (file === undefined) return undefined;
  const text = textOfFile(file.text, program.configuration.profile);
  return toItem(program, file.uri, text, programItem(text, text.layout.unitOfNumber(number) ?? text.layout.units[0]));
};

/** The program that an item was found from, and the item's own text. */
async function placeOfItem(
  server: Server,
  item: unknown,
  token: CancellationToken,
): Promise<{ program: Program; text: ProgramText; uri: string; data: ItemData } | undefined> {
  const { uri, data } = (item ?? {}) as { uri?: unknown; data?: Partial<ItemData> };
  if (typeof uri !== 'string' || typeof data?.number !== 'number' || typeof data.line !== 'number')
    throw invalidParams('item needs uri and the data that it came with');
  const program = server.programs.get(uri) ?? server.programs.get(String(data.from));
  if (program === undefined) return undefined;
  await server.runs.upToDate(program, token);
  const { profile } = program.configuration;
  if (program.uri === uri)
    return { program, uri, text: textOfAnalysis(program.analysis, profile), data: data as ItemData };
  const file = (await siblingTexts(server, program)).texts.find((sibling) => sibling.uri === uri);
  return file && { program, uri, text: file.text, data: data as ItemData };
}

async function incoming(
  server: Server,
  item: unknown,
  token: CancellationToken,
): Promise<CallHierarchyIncomingCall[] | null> {
  const place = await placeOfItem(server, item, token);
  if (place === undefined || place.data.number < 0) return null;
  const { program, uri, text, data } = place;
  const { texts } = isFoundByNumber(text, data.number) ? await siblingTexts(server, program) : { texts: [] };
  const beside = callersAmong(texts, data.number).filter((sibling) => sibling.uri !== uri);
  const own = { uri: program.uri, text: textOfAnalysis(program.analysis, program.configuration.profile) };
  const around = program.uri === uri ? [] : callersAmong([{ ...own, name: '', version: null }], data.number);
  const found: CallHierarchyIncomingCall[] = [];
  for (const caller of [{ uri, text }, ...around, ...beside]) {
    const callers = await inSlices(server, program, callersIn(caller.text, data.number), token);
    for (const { program: from, calls } of callers) {
      found.push({ from: toItem(program, caller.uri, caller.text, from), fromRanges: calls.map(spanRange) });
    }
  }
  return found;
}

async function outgoing(
  server: Server,
  item: unknown,
  token: CancellationToken,
): Promise<CallHierarchyOutgoingCall[] | null> {
  const place = await placeOfItem(server, item, token);
  if (place === undefined) return null;
  const { program, uri, text, data } = place;
  if (data.line >= text.lineCount) return null;
  const found: CallHierarchyOutgoingCall[] = [];
  for (const { number, calls } of await inSlices(server, program, calledBy(text, data.line), token)) {
    const unit = text.layout.unitOfNumber(number);
    const to = unit ? toItem(program, uri, text, programItem(text, unit)) : itemInFile(server, program, number);
    if (to !== undefined) found.push({ to, fromRanges: calls.map(spanRange) });
  }
  return found;
}
