// What the extension and the path view say to each other, and how each makes sure that it was said.
import { isPathIndex, isWhole, type PathIndex } from '../../server/src/core/geometry/pathRequest.ts';

/** From the extension to the view. */
export type ToView =
  /** A program is shown from now on; what was shown of another one goes. */
  | { readonly type: 'program'; readonly uri: string; readonly name: string }
  /** The pieces that the program's path consists of. Those that the view has not got follow. */
  | { readonly type: 'index'; readonly uri: string; readonly index: PathIndex }
  | { readonly type: 'piece'; readonly uri: string; readonly id: number; readonly data: ArrayBuffer }
  /** The lines (0-based) of the blocks where the cursor stands. */
  | { readonly type: 'lit'; readonly uri: string; readonly first: number; readonly last: number }
  /** What a repair would make of the path, as far as it is another one; without `data` it is drawn no longer. */
  | { readonly type: 'ghost'; readonly uri: string; readonly data?: ArrayBuffer }
  /** The path cannot be fetched; what is shown may be old. */
  | { readonly type: 'trouble'; readonly text: string };

/** From the view to the extension. */
export type FromView =
  /** The view has (again) nothing and wants everything. */
  { readonly type: 'ready' } | { readonly type: 'goToLine'; readonly uri: string; readonly line: number };

type Fields = Readonly<Record<string, unknown>>;

const isFields = (value: unknown): value is Fields => typeof value === 'object' && value !== null;

/** Reads a message to the view; `undefined` if it is none. */
export function readToView(value: unknown): ToView | undefined {
  if (!isFields(value)) {
    return undefined;
  }
  const { type, uri, name, index, id, data, first, last, text } = value;
  if (type === 'trouble' && typeof text === 'string') {
    return { type, text };
  }
  if (typeof uri !== 'string') {
    return undefined;
  }
  if (type === 'program' && typeof name === 'string') {
    return { type, uri, name };
  }
  if (type === 'index' && isPathIndex(index)) {
    return { type, uri, index };
  }
  if (type === 'piece' && isWhole(id) && data instanceof ArrayBuffer) {
    return { type, uri, id, data };
  }
  if (type === 'ghost' && data === undefined) {
    return { type, uri };
  }
  if (type === 'ghost' && data instanceof ArrayBuffer) {
    return { type, uri, data };
  }
  if (type === 'lit' && isWhole(first) && isWhole(last, first)) {
    return { type, uri, first, last };
  }
  return undefined;
}

/** Reads a message from the view; `undefined` if it is none. */
export function readFromView(value: unknown): FromView | undefined {
  if (!isFields(value)) {
    return undefined;
  }
  const { type, uri, line } = value;
  if (type === 'ready') {
    return { type };
  }
  return type === 'goToLine' && typeof uri === 'string' && isWhole(line) ? { type, uri, line } : undefined;
}
