/** What is asked for and answered when the toolpath goes from the server to the view, and how it is checked. */

/** Which path: the program's own; the others are for comparing and for what would come. */
export type PathLayer = 'program' | 'ghost' | 'other';

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
  /** Layer `ghost`: the changes of text whose path is asked for; lines and UTF-16 columns from 0, in one line each. */
  readonly edits?: readonly GhostEdit[];
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
}

type Fields = Readonly<Record<string, unknown>>;

const isFields = (value: unknown): value is Fields => typeof value === 'object' && value !== null;

/** A whole number at or above `least`. */
export const isWhole = (value: unknown, least = 0): value is number =>
  typeof value === 'number' && Number.isSafeInteger(value) && value >= least;

const isEdit = (value: unknown): boolean =>
  isFields(value) &&
  isWhole(value.line) &&
  isWhole(value.column) &&
  isWhole(value.endColumn, value.column) &&
  typeof value.text === 'string' &&
  !/[\r\n]/.test(value.text);

/** True if the value is a request as the view's host sends it. */
export function isPathRequest(value: unknown): value is PathRequest {
  if (!isFields(value)) return false;
  const { uri, version, chunk, layer, edits } = value;
  const known = layer === 'program' || layer === 'ghost' || layer === 'other';
  if (edits !== undefined && !(Array.isArray(edits) && edits.every(isEdit))) return false;
  return typeof uri === 'string' && Number.isSafeInteger(version) && isWhole(chunk, INDEX_CHUNK) && known;
}

const isPiece = (value: unknown): boolean =>
  isFields(value) && isWhole(value.id) && isWhole(value.firstLine) && isWhole(value.vertices);

const isFinding = (value: unknown): boolean =>
  isFields(value) &&
  isWhole(value.line) &&
  (value.severity === 'error' || value.severity === 'warning' || value.severity === 'hint') &&
  typeof value.message === 'string' &&
  [value.x, value.y, value.z].every((number) => Number.isFinite(number));

/** True if the value is a list of pieces as the server sends it. */
export function isPathIndex(value: unknown): value is PathIndex {
  if (!isFields(value)) return false;
  const { version, inch, pieces, findings, unplaced } = value;
  if (!Number.isSafeInteger(version) || typeof inch !== 'boolean' || !isWhole(unplaced)) return false;
  return Array.isArray(pieces) && pieces.every(isPiece) && Array.isArray(findings) && findings.every(isFinding);
}
