// What the extension and the form of a block say to each other, and how each makes sure that it was said.
import type { BlockForm, FormResult } from '../../server/src/core/features/blockForm.ts';

/** What a block takes the place of. */
export interface Replaced {
  /** The lines as they stand. */
  readonly lines: readonly string[];
  /** They were changed by hand since they were generated: they go only after a second word. */
  readonly edited: boolean;
  /** A generated block that is revised; else lines that a hand wrote. */
  readonly isBlock: boolean;
}

/** From the extension to the form. */
export type ToForm =
  /** What the form is for; comes once. `line` counts from 1. `values` stand in their fields as if typed. */
  | {
      readonly type: 'form';
      readonly form: BlockForm;
      readonly program: string;
      readonly line: number;
      readonly values: Readonly<Record<string, string>>;
      readonly replaced?: Replaced;
    }
  /** What the values came to that were sent under the number `asked`. */
  | {
      readonly type: 'result';
      readonly asked: number;
      readonly result: FormResult;
      readonly line: number;
      readonly replaced?: Replaced;
    }
  /** The block could not be asked for or written. */
  | { readonly type: 'trouble'; readonly text: string };

/** From the form to the extension. */
export type FromForm =
  | { readonly type: 'ready' }
  /** Values as typed, by parameter name; an empty text is a field that was emptied. */
  | { readonly type: 'values'; readonly asked: number; readonly values: Readonly<Record<string, string>> }
  /** Writes the block of the values that were sent last; `overEdited`: also over lines changed by hand. */
  | { readonly type: 'insert'; readonly overEdited: boolean }
  | { readonly type: 'close' };

type Fields = Readonly<Record<string, unknown>>;

const isFields = (value: unknown): value is Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Reads a message of the form; undefined if it is none. */
export function readFromForm(value: unknown): FromForm | undefined {
  if (!isFields(value)) {
    return undefined;
  }
  const { type, asked, values, overEdited } = value;
  if (type === 'ready' || type === 'close') {
    return { type };
  }
  if (type === 'insert' && typeof overEdited === 'boolean') {
    return { type, overEdited };
  }
  if (type === 'values' && Number.isSafeInteger(asked) && isTexts(values)) {
    return { type, asked: asked as number, values };
  }
  return undefined;
}

/** True if the value is a message to the form. Only the extension can send any: no more than its kind is looked at. */
export function isToForm(value: unknown): value is ToForm {
  return isFields(value) && (value.type === 'form' || value.type === 'result' || value.type === 'trouble');
}

const isTexts = (value: unknown): value is Record<string, string> =>
  isFields(value) && Object.values(value).every((text) => typeof text === 'string');
