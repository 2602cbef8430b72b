/**
 * Checks what a client sends before anything is done with it: bad parameters get the error answer −32602, never null.
 */
import { ErrorCodes, type Position, type Range, ResponseError } from 'vscode-languageserver';

/** The error answer for parameters that cannot be used. */
export const invalidParams = (message: string): ResponseError<void> =>
  new ResponseError(ErrorCodes.InvalidParams, message);

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const isPlace = (value: unknown): value is number =>
  typeof value === 'number' && Number.isInteger(value) && value >= 0 && value <= 0x7fffffff;

const isPosition = (value: unknown): value is Position =>
  isObject(value) && isPlace(value.line) && isPlace(value.character);

const isRange = (value: unknown): value is Range => isObject(value) && isPosition(value.start) && isPosition(value.end);

/** The address of the document that a message is about. */
export function uriOf(params: unknown): string {
  const document = isObject(params) ? params.textDocument : undefined;
  if (!isObject(document) || typeof document.uri !== 'string') {
    throw invalidParams('textDocument.uri is missing');
  }
  return document.uri;
}

/** The position in a message. */
export function positionOf(params: unknown): Position {
  const position = isObject(params) ? params.position : undefined;
  if (!isPosition(position)) throw invalidParams('position needs line and character, whole numbers from 0');
  return position;
}

/** The positions in a message. */
export function positionsOf(params: unknown): Position[] {
  const positions = isObject(params) ? params.positions : undefined;
  if (!Array.isArray(positions) || !positions.every(isPosition)) {
    throw invalidParams('positions needs a list of places, each with line and character');
  }
  return positions;
}

/** The range in a message. */
export function rangeOf(params: unknown): Range {
  const range = isObject(params) ? params.range : undefined;
  if (!isRange(range)) throw invalidParams('range needs start and end, each with line and character');
  if (
    range.end.line < range.start.line ||
    (range.end.line === range.start.line && range.end.character < range.start.character)
  ) {
    throw invalidParams('range ends before it starts');
  }
  return range;
}

/** The same line; an error answer where the document has no such line. */
export function lineWithin(line: number, lineCount: number): number {
  if (line >= lineCount) throw invalidParams(`line ${line} is past the end, the document has ${lineCount} lines`);
  return line;
}

/** One change of a document's text: all of it, or a range. */
export interface TextChange {
  readonly range: Range | undefined;
  readonly text: string;
}

/** The changes of a didChange message; those that cannot be read are an error for the whole message. */
export function changesOf(params: unknown): TextChange[] {
  const changes = isObject(params) ? params.contentChanges : undefined;
  if (!Array.isArray(changes)) throw invalidParams('contentChanges is missing');
  return changes.map((change: unknown) => {
    if (!isObject(change) || typeof change.text !== 'string') throw invalidParams('a change needs its text');
    const range = change.range;
    if (range !== undefined && range !== null && !isRange(range))
      throw invalidParams('a change has a range that is none');
    return { range: isRange(range) ? range : undefined, text: change.text };
  });
}

/** What didOpen says of a document. */
export function openedOf(params: unknown): { uri: string; version: number; text: string } {
  const uri = uriOf(params);
  const document = (params as { textDocument: Record<string, unknown> }).textDocument;
  if (typeof document.text !== 'string') throw invalidParams('textDocument.text is missing');
  return { uri, version: versionOf(params), text: document.text };
}

/** The version of the document in a message, 0 where it says none. */
export function versionOf(params: unknown): number {
  const document = isObject(params) ? params.textDocument : undefined;
  const version = isObject(document) ? document.version : undefined;
  return typeof version === 'number' ? version : 0;
}
