// What the view is in now, beside what its parts know of themselves: the conductor sets it, painting and input read it.
import type { Size } from './camera.ts';
import type { LitLines } from './scene.ts';
import type { Theme } from './theme.ts';

/** See the top of the file. */
export interface ViewState {
  uri: string;
  name: string;
  /** The picture's size, CSS pixels. */
  size: Size;
  theme: Theme;
  lit: LitLines;
  /** What is wrong with the picture; empty where nothing is. */
  trouble: string;
  isBoxShown: boolean;
  /** Where the pointer is, CSS pixels of the picture. */
  pointer: { readonly x: number; readonly y: number } | undefined;
}
