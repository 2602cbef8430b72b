// The places that findings are about: small buttons on the path, told apart by sign as well as by colour.
import type { PathFinding } from '../../server/src/core/geometry/pathRequest.ts';
import { type Camera, project, type Size } from './camera.ts';

const SIGNS: Readonly<Record<PathFinding['severity'], string>> = { error: '×', warning: '!', hint: '?' };

/** The marks over the path. */
export class Marks {
  readonly #layer: HTMLElement;
  readonly #goToLine: (line: number) => void;
  #marks: { readonly button: HTMLButtonElement; readonly finding: PathFinding }[] = [];

  constructor(layer: HTMLElement, goToLine: (line: number) => void) {
    this.#layer = layer;
    this.#goToLine = goToLine;
  }

  /** Marks these findings instead of those before. */
  show(findings: readonly PathFinding[]): void {
    this.#marks = findings.map((finding) => {
      const button = document.createElement('button');
      button.type = 'button';
      button.className = `mark ${finding.severity}`;
      button.textContent = SIGNS[finding.severity];
      button.title = `Line ${finding.line + 1}: ${finding.message}`;
      button.setAttribute('aria-label', `${finding.severity}, ${button.title}`);
      button.addEventListener('click', () => this.#goToLine(finding.line));
      return { button, finding };
    });
    this.#layer.replaceChildren(...this.#marks.map(({ button }) => button));
  }

  /** Puts the marks where their places are seen now. */
  place(camera: Camera, size: Size): void {
    for (const { button, finding } of this.#marks) {
      const { x, y } = project(camera, size, [finding.x, finding.y, finding.z]);
      const seen = x > -20 && y > -20 && x < size.width + 20 && y < size.height + 20;
      button.hidden = !seen;
      button.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px) translate(-50%, -130%)`;
    }
  }
}
