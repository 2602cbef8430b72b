// What the extension and the path view say to each other, and how each makes sure that it was said.

import { isPathIndex, type PathIndex } from '../../server/src/core/geometry/pathRequest.ts';
import { type Fields, isFields, isWhole } from '../../server/src/core/geometry/pathRequestChecks.ts';
import { isPathDrawingRequest, type PathDrawingRequest } from '../../server/src/core/geometry/pathRequestDrawing.ts';
import {
  isPathMove,
  isPathMoveRequest,
  type PathMove,
  type PathMoveRequest,
} from '../../server/src/core/geometry/pathRequestMove.ts';
import { isViewName, type ViewName } from './camera.ts';

/** A path beside the program's own: the contour as programmed, or a second program's. Where nothing is said: its own. */
export type SideLayer = 'contour' | 'other';

/** From the extension to the view. */
export type ToView =
  /** A program is shown from now on; what was shown of another one goes. */
  | { readonly type: 'program'; readonly uri: string; readonly name: string }
  /** The pieces that the program's path consists of. Those that the view has not got follow. */
  | { readonly type: 'index'; readonly uri: string; readonly index: PathIndex; readonly layer?: SideLayer }
  | {
      readonly type: 'piece';
      readonly uri: string;
      readonly id: number;
      readonly data: ArrayBuffer;
      readonly layer?: SideLayer;
    }
  /** The times of a piece that the view has (`packedPathTimes.ts`); they come once the view has asked for times. */
  | {
      readonly type: 'times';
      readonly uri: string;
      readonly id: number;
      readonly data: ArrayBuffer;
      readonly layer?: SideLayer;
    }
  /** The answer to `explain`; null where the line moves nothing. */
  | { readonly type: 'explained'; readonly uri: string; readonly ticket: number; readonly move: PathMove | null }
  /** The lines (0-based) of the blocks where the cursor stands. */
  | { readonly type: 'lit'; readonly uri: string; readonly first: number; readonly last: number }
  /**
   * What a repair would make of the path, as far as it is another one, or the path of a block that is not in the program
   * yet; without `data` it is drawn no longer.
   */
  | {
      readonly type: 'ghost';
      readonly uri: string;
      readonly data?: ArrayBuffer;
      readonly isBlock?: boolean;
      /** Lines (0-based) that the block takes the place of: they are not shown meanwhile. */
      readonly gone?: { readonly first: number; readonly last: number };
    }
  /** Another program is laid over this one from now on, its path comes in the layer `other`; without a name none is. */
  | { readonly type: 'over'; readonly uri: string; readonly name?: string }
  /** The path cannot be fetched; what is shown may be old. */
  | { readonly type: 'trouble'; readonly text: string }
  /** Whether the panel goes along with the editor from one program to another. */
  | { readonly type: 'follows'; readonly isOn: boolean };

/** From the view to the extension. */
export type FromView =
  /** The view has (again) nothing and wants everything. */
  | { readonly type: 'ready' }
  /** The cursor is to go to the line; with a place, the pass through the line is told too. */
  | ({ readonly type: 'goToLine' } & PathMoveRequest)
  /** The panel is to go along with the editor, or to stay with its program. */
  | { readonly type: 'follow'; readonly isOn: boolean }
  /** From now on the times of the pieces are wanted too, those of the pieces it has first. */
  | { readonly type: 'times'; readonly uri: string }
  /** A playback runs through this line (from 0); without one none does any longer. */
  | { readonly type: 'runs'; readonly uri: string; readonly line?: number }
  /** A move of the program in words and numbers is wanted; the answer carries the same ticket. */
  | ({ readonly type: 'explain'; readonly ticket: number } & PathMoveRequest)
  /** A path beside the program's own is wanted or no longer; which other program it is the host asks its user. */
  | { readonly type: 'side'; readonly uri: string; readonly layer: SideLayer; readonly isOn: boolean }
  /** The picture as it is seen, a PNG, is to be saved. */
  | { readonly type: 'savePicture'; readonly uri: string; readonly view: ViewName; readonly data: ArrayBuffer }
  /** A drawing to scale is to be made and saved. */
  | ({ readonly type: 'saveDrawing' } & PathDrawingRequest);

/** Reads a message to the view; `undefined` if it is none. */
export function readToView(value: unknown): ToView | undefined {
  if (!isFields(value)) {
    return undefined;
  }
  const { type, uri, name, index, data, isBlock, first, last, text } = value;
  if (type === 'trouble' && typeof text === 'string') {
    return { type, text };
  }
  if (type === 'follows' && typeof value.isOn === 'boolean') {
    return { type, isOn: value.isOn };
  }
  if (typeof uri !== 'string') {
    return undefined;
  }
  if (type === 'program' && typeof name === 'string') {
    return { type, uri, name };
  }
  if (type === 'index' && isPathIndex(index) && isLayer(value.layer)) {
    return { type, uri, index, ...(value.layer && { layer: value.layer }) };
  }
  if (type === 'piece' || type === 'times') {
    return readPiece(type, uri, value);
  }
  if (type === 'explained' && isWhole(value.ticket) && (value.move === null || isPathMove(value.move))) {
    return { type, uri, ticket: value.ticket, move: value.move };
  }
  if (type === 'over' && (name === undefined || typeof name === 'string')) {
    return { type, uri, ...(name !== undefined && { name }) };
  }
  if (type === 'ghost' && data === undefined) {
    return { type, uri };
  }
  if (type === 'ghost' && data instanceof ArrayBuffer) {
    return { type, uri, data, ...(isBlock === true && { isBlock }), ...readGone(value.gone) };
  }
  if (type === 'lit' && isWhole(first) && isWhole(last, first)) {
    return { type, uri, first, last };
  }
  return undefined;
}

function readGone(value: unknown): { gone?: { first: number; last: number } } {
  return isFields(value) && isWhole(value.first) && isWhole(value.last, value.first)
    ? { gone: { first: value.first, last: value.last } }
    : {};
}

const isSideLayer = (value: unknown): value is SideLayer => value === 'contour' || value === 'other';

const isLayer = (value: unknown): value is SideLayer | undefined => value === undefined || isSideLayer(value);

function readPiece(type: 'piece' | 'times', uri: string, { id, data, layer }: Fields): ToView | undefined {
  if (!isWhole(id) || !(data instanceof ArrayBuffer) || !isLayer(layer)) {
    return undefined;
  }
  return { type, uri, id, data, ...(layer && { layer }) };
}

/** Reads a message from the view; `undefined` if it is none. */
export function readFromView(value: unknown): FromView | undefined {
  if (!isFields(value)) {
    return undefined;
  }
  const { type, uri, line, ticket, pass, at } = value;
  if (type === 'ready') {
    return { type };
  }
  if (type === 'times' && typeof uri === 'string') {
    return { type, uri };
  }
  if (type === 'follow' && typeof value.isOn === 'boolean') {
    return { type, isOn: value.isOn };
  }
  if (type === 'side' && typeof uri === 'string' && isSideLayer(value.layer) && typeof value.isOn === 'boolean') {
    return { type, uri, layer: value.layer, isOn: value.isOn };
  }
  if (type === 'runs' && typeof uri === 'string' && (line === undefined || isWhole(line))) {
    return { type, uri, ...(line !== undefined && { line }) };
  }
  if (type === 'savePicture' || type === 'saveDrawing') {
    return readSaving(type, value);
  }
  const asked = { uri, line, ...(pass !== undefined && { pass }), ...(at !== undefined && { at }) };
  if (!isPathMoveRequest(asked)) {
    return undefined;
  }
  if (type === 'explain' && isWhole(ticket)) {
    return { type, ticket, ...asked };
  }
  return type === 'goToLine' ? { type, ...asked } : undefined;
}

function readSaving(type: 'savePicture' | 'saveDrawing', value: Fields): FromView | undefined {
  const { uri, view, data, plane, units, hiddenKinds, hiddenSections } = value;
  if (type === 'savePicture') {
    return typeof uri === 'string' && isViewName(view) && data instanceof ArrayBuffer
      ? { type, uri, view, data }
      : undefined;
  }
  const asked = {
    uri,
    plane,
    units,
    ...(hiddenKinds !== undefined && { hiddenKinds }),
    ...(hiddenSections !== undefined && { hiddenSections }),
  };
  return isPathDrawingRequest(asked) ? { type, ...asked } : undefined;
}
