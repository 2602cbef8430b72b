// The strip below the picture that says what is measured, and what to do next.
import { setParts } from './readout.ts';

/** What can be measured. */
export type MeasureMode = 'points' | 'move' | 'moves';

/** What the panel's buttons do. */
export interface MeasureActions {
  choose(mode: MeasureMode): void;
  copy(): void;
  clear(): void;
  close(): void;
}

const MODES: readonly (readonly [MeasureMode, string, string])[] = [
  ['points', 'Two points', 'From one point to another: differences, length and angle'],
  ['move', 'Move', 'Length of a move, radius of an arc'],
  ['moves', 'Two moves', 'The shortest distance between two moves'],
];

/** See the top of the file. */
export class MeasurePanel {
  readonly element = document.createElement('section');
  readonly #modes: ReadonlyMap<MeasureMode, HTMLButtonElement>;
  readonly #result = document.createElement('div');
  readonly #help = document.createElement('div');
  readonly #copy: HTMLButtonElement;
  readonly #clear: HTMLButtonElement;

  constructor(actions: MeasureActions) {
    this.element.className = 'measure';
    this.element.setAttribute('aria-label', 'Measure');
    this.element.hidden = true;
    this.#modes = new Map(
      MODES.map(([mode, label, title]) => [mode, buttonFor(label, title, () => actions.choose(mode))] as const),
    );
    this.#result.className = 'result';
    this.#result.setAttribute('role', 'status');
    this.#help.className = 'help';
    this.#copy = buttonFor('Copy', 'Copy what is measured (C)', () => actions.copy());
    this.#clear = buttonFor('Clear', 'Measure anew (Esc)', () => actions.clear());
    const close = buttonFor('Close', 'Measure no more (M)', () => actions.close());
    const row = document.createElement('div');
    row.className = 'row';
    row.append(...this.#modes.values(), this.#copy, this.#clear, close);
    const text = document.createElement('div');
    text.className = 'text';
    text.append(this.#result, this.#help);
    this.element.append(row, text);
  }

  /** Shows what is measured, and what to do next. */
  show(mode: MeasureMode, texts: readonly string[], help: string): void {
    for (const [name, button] of this.#modes) {
      button.setAttribute('aria-pressed', String(name === mode));
    }
    setParts(this.#result, texts);
    this.#help.textContent = help;
    this.#copy.disabled = texts.length === 0;
    this.#clear.disabled = texts.length === 0;
  }
}

function buttonFor(label: string, title: string, action: () => void): HTMLButtonElement {
  const button = document.createElement('button');
  button.type = 'button';
  button.className = 'tool';
  button.textContent = label;
  button.title = title;
  button.addEventListener('click', action);
  return button;
}
