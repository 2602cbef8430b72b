/** One move explained: what is asked for and answered, and how it is checked. Numbers that are not known are null. */
import { type Fields, isAtLeastZero, isFields, isListOf, isNumberOrNull, isWhole } from './pathRequestChecks.ts';

/** X Y Z in work coordinates, mm; null where a coordinate is not known. */
export type PathPoint = readonly [number | null, number | null, number | null];

/** Asks for the move of a line. */
export interface PathMoveRequest {
  readonly uri: string;
  /** Line of the program, from 0; of a subprogram in a file of its own, the line of the call. */
  readonly line: number;
  /** Only moves of this pass through the line: 1 the first, 2 any further one. */
  readonly pass?: 1 | 2;
  /** The move nearest to this place (work coordinates, mm) is meant; without it the first. */
  readonly at?: readonly [number, number, number];
}

/** One move with its numbers. Lengths mm, feeds mm/min, speed rev/min, angles degrees, times s. */
export interface PathMove {
  readonly line: number;
  readonly kind: 'rapid' | 'line' | 'arc' | 'dwell';
  readonly from: PathPoint;
  readonly to: PathPoint;
  /** Of an arc; along the plane's normal the centre lies at the start's height. Counter-clockwise positive. */
  readonly centre?: PathPoint;
  readonly radius?: number | null;
  readonly endRadius?: number | null;
  readonly sweep?: number | null;
  readonly length: number;
  /** Along the path; null where it is not known or does not apply (rapids, waits). */
  readonly feed: number | null;
  readonly speed: number | null;
  readonly tool: number | null;
  readonly seconds: number | null;
  /** Work offset by name. */
  readonly offset: string;
  readonly plane: 'XY' | 'ZX' | 'YZ';
  /** Which pass through the line it is, from 1, and how many there are in all. */
  readonly pass: number;
  readonly passes: number;
  /** Which of the moves of this line in this pass, from 1, and how many there are: cycles, subprograms in other files. */
  readonly part: number;
  readonly parts: number;
  /** Where it is written, if that is the own file of a called program. */
  readonly origin?: MoveOriginFile;
  /** What hover shows for the block, plain sentences, numbers in the program's units. */
  readonly text: readonly string[];
}

/** A line, from 0, of the file of program `program`; `uri` is its address where that is known, `file` the number it was found by. */
export interface MoveOriginFile {
  readonly program: number;
  readonly file: number;
  readonly line: number;
  readonly uri?: string;
}

/** True if the value asks for a move. */
export function isPathMoveRequest(value: unknown): value is PathMoveRequest {
  if (!isFields(value)) return false;
  const { uri, line, pass, at } = value;
  if (pass !== undefined && pass !== 1 && pass !== 2) return false;
  if (at !== undefined && !isListOf(at, 3, (number) => Number.isFinite(number))) return false;
  return typeof uri === 'string' && isWhole(line);
}

const isPoint = (value: unknown): boolean => isListOf(value, 3, isNumberOrNull);

const isArc = ({ centre, radius, endRadius, sweep }: Fields): boolean =>
  centre === undefined || (isPoint(centre) && [radius, endRadius, sweep].every(isNumberOrNull));

const isOrigin = (value: unknown): boolean =>
  isFields(value) &&
  Number.isSafeInteger(value.program) &&
  Number.isSafeInteger(value.file) &&
  isWhole(value.line) &&
  (value.uri === undefined || typeof value.uri === 'string');

/** True if the value is a move as the server sends it. */
export function isPathMove(value: unknown): value is PathMove {
  if (!isFields(value)) return false;
  const { kind, from, to, feed, speed, tool, seconds, plane, text } = value;
  if (kind !== 'rapid' && kind !== 'line' && kind !== 'arc' && kind !== 'dwell') return false;
  if (plane !== 'XY' && plane !== 'ZX' && plane !== 'YZ') return false;
  if (!isWhole(value.line) || !isPoint(from) || !isPoint(to) || !isArc(value)) return false;
  if (![feed, speed, tool, seconds].every(isNumberOrNull) || !isAtLeastZero(value.length)) return false;
  if (![value.pass, value.passes, value.part, value.parts].every((count) => isWhole(count, 1))) return false;
  if (value.origin !== undefined && !isOrigin(value.origin)) return false;
  if (!Array.isArray(text) || !text.every((line) => typeof line === 'string')) return false;
  return typeof value.offset === 'string';
}
