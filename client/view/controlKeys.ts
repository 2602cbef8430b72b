// Keys of the view that work wherever the keyboard is in its page, but in a field.
import type { ViewName } from './camera.ts';

/** What the keys do. */
export interface KeyActions {
  turnTo(view: ViewName): void;
  fitAll(): void;
  fitLit(): void;
  switchLens(): void;
  switchBox(): void;
  measure(): void;
  sheet(): void;
  colourByNext(): void;
  rapids(): void;
  copy(): void;
}

const VIEWS: Readonly<Record<string, ViewName>> = { '1': 'top', '2': 'front', '3': 'side', '4': 'space' };

/**
 * Listens for 1 2 3 4 (views), F and Shift+F (fit all, fit what is lit), P (perspective), B (box), M (measure), C (copy), S (the
 * sheet of what is shown), K (colours by the next), R (rapids).
 */
export function listenForKeys(page: Document, on: KeyActions): void {
  page.addEventListener('keydown', (event) => {
    const isTyped = event.target instanceof Element && event.target.closest('input, select, textarea');
    if (isTyped || event.ctrlKey || event.altKey || event.metaKey) {
      return;
    }
    const view = VIEWS[event.key];
    const action = view ? () => on.turnTo(view) : actionOf(event.key, event.shiftKey, on);
    if (action) {
      event.preventDefault();
      action();
    }
  });
}

function actionOf(key: string, withShift: boolean, on: KeyActions): (() => void) | undefined {
  const actions: Readonly<Record<string, () => void>> = {
    f: withShift ? () => on.fitLit() : () => on.fitAll(),
    p: () => on.switchLens(),
    b: () => on.switchBox(),
    m: () => on.measure(),
    s: () => on.sheet(),
    k: () => on.colourByNext(),
    r: () => on.rapids(),
    c: () => on.copy(),
  };
  return actions[key.toLowerCase()];
}
