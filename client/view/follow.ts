// The button that lets the panel go along with the editor, or stay with its program.
import type { Kept } from './kept.ts';

/** See the top of the file. The extension decides; the button asks for the other and shows what holds. */
export class FollowSwitch {
  readonly #button: HTMLButtonElement;
  readonly #kept: Kept;
  #isOn: boolean;

  /** `ask` asks the extension for it. */
  constructor(button: HTMLButtonElement, kept: Kept, ask: (isOn: boolean) => void) {
    this.#button = button;
    this.#kept = kept;
    this.#isOn = kept.read('follows') !== false;
    this.#show();
    button.addEventListener('click', () => ask(!this.#isOn));
  }

  /** What holds from now on; kept, so that the panel comes back the same. */
  take(isOn: boolean): void {
    this.#isOn = isOn;
    this.#kept.write({ follows: isOn });
    this.#show();
  }

  #show(): void {
    this.#button.setAttribute('aria-pressed', String(this.#isOn));
  }
}
