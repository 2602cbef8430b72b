/** What is asked for and answered when the toolpath goes from the server to the view, and how it is checked. */
import { isAtLeastZero, isFields, isWhole } from './pathRequestChecks.ts';
import { isPathSummary, type PathSummary } from './pathSummary.ts';

/**
 * Which path: the program's own; the contour as programmed, where radius compensation leads the cutter beside it; what
 * changes of the text would lead to; a second program's, laid over the first (asked for under its own address).
 */
export type PathLayer = 'program' | 'contour' | 'ghost' | 'other';

/** The way that a piece describes, or the seconds along it (layers `program` and `other`). */
export type PathContent = 'path' | 'times';

/** Value of `PathRequest.chunk` that asks for the list of pieces instead of a piece. */
export const INDEX_CHUNK = -1;

/** Asks for one piece of a program's path, or for the list of its pieces. */
export interface PathRequest {
  readonly uri: string;
  /** Version of the document that the asker knows; the answer is always of the newest. */
  readonly version: number;
  /** Id of a piece from the list, or `INDEX_CHUNK`. */
  readonly chunk: number;
  readonly layer: PathLayer;
  /** What of the piece: its path (`packedLayout.ts`) where nothing is said, or its times (`packedPathTimes.ts`). */
  readonly what?: PathContent;
  /** Layer `ghost`: the changes of text whose path is asked for; lines and UTF-16 columns from 0, in one line each. */
  readonly edits?: readonly GhostEdit[];
  /** Layer `ghost`: lines that would be put in, whose own path is asked for; goes before `edits`. */
  readonly inserted?: InsertedLines;
}

/** Whole lines that would stand in a program. */
export interface InsertedLines {
  /** Line that they would begin at, from 0; the line count for behind the last. */
  readonly line: number;
  /** How many lines from there on they take the place of. */
  readonly replaced: number;
  readonly lines: readonly string[];
}

/** A change of text in one line. */
export interface GhostEdit {
  readonly line: number;
  readonly column: number;
  readonly endColumn: number;
  readonly text: string;
}

/** A piece in the list. Equal ids have equal content; only `firstLine` may differ. */
export interface PathPiece {
  readonly id: number;
  /** 0-based line of the program that the piece's lines count from. */
  readonly firstLine: number;
  readonly vertices: number;
  /** How long it takes, nominal seconds; 0 in the layer `contour`. The piece behind it starts so much later. */
  readonly seconds: number;
}

/** A place that a finding is about; X Y Z in work coordinates, mm. */
export interface PathFinding {
  readonly line: number;
  readonly severity: 'error' | 'warning' | 'hint';
  readonly message: string;
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** The list of a path's pieces, in the order of the program. */
export interface PathIndex {
  readonly version: number;
  readonly inch: boolean;
  readonly pieces: readonly PathPiece[];
  readonly findings: readonly PathFinding[];
  /** Findings whose place is not known or that are too many to mark. */
  readonly unplaced: number;
  /** What the run comes to; layers `program` and `other` only. */
  readonly summary?: PathSummary;
}

const isEdit = (value: unknown): boolean =>
  isFields(value) &&
  isWhole(value.line) &&
  isWhole(value.column) &&
  isWhole(value.endColumn, value.column) &&
  typeof value.text === 'string' &&
  !/[\r\n]/.test(value.text);

const isInserted = (value: unknown): boolean =>
  isFields(value) &&
  isWhole(value.line) &&
  isWhole(value.replaced) &&
  Array.isArray(value.lines) &&
  value.lines.every((line) => typeof line === 'string' && !/[\r\n]/.test(line));

const LAYERS: readonly unknown[] = ['program', 'contour', 'ghost', 'other'] satisfies PathLayer[];

/** True if the value is a request as the view's host sends it. */
export function isPathRequest(value: unknown): value is PathRequest {
  if (!isFields(value)) return false;
  const { uri, version, chunk, layer, what, edits, inserted } = value;
  const known = LAYERS.includes(layer);
  if (what !== undefined && what !== 'path' && what !== 'times') return false;
  if (edits !== undefined && !(Array.isArray(edits) && edits.every(isEdit))) return false;
  if (inserted !== undefined && !isInserted(inserted)) return false;
  return typeof uri === 'string' && Number.isSafeInteger(version) && isWhole(chunk, INDEX_CHUNK) && known;
}

const isPiece = (value: unknown): boolean =>
  isFields(value) &&
  isWhole(value.id) &&
  isWhole(value.firstLine) &&
  isWhole(value.vertices) &&
  isAtLeastZero(value.seconds);

const isFinding = (value: unknown): boolean =>
  isFields(value) &&
  isWhole(value.line) &&
  (value.severity === 'error' || value.severity === 'warning' || value.severity === 'hint') &&
  typeof value.message === 'string' &&
  [value.x, value.y, value.z].every((number) => Number.isFinite(number));

/** True if the value is a list of pieces as the server sends it. */
export function isPathIndex(value: unknown): value is PathIndex {
  if (!isFields(value)) return false;
  const { version, inch, pieces, findings, unplaced, summary } = value;
  if (summary !== undefined && !isPathSummary(summary)) return false;
  if (!Number.isSafeInteger(version) || typeof inch !== 'boolean' || !isWhole(unplaced)) return false;
  return Array.isArray(pieces) && pieces.every(isPiece) && Array.isArray(findings) && findings.every(isFinding);
}
