// The places that findings are about: small buttons on the path, told apart by sign as well as by colour.
import type { PathFinding } from '../../server/src/core/geometry/pathRequest.ts';
import { type Camera, project, type Size } from './camera.ts';

const SIGNS: Readonly<Record<PathFinding['severity'], string>> = { error: '×', warning: '!', hint: '?' };

/** Marks nearer to each other than this stand side by side, pixels; so many in a row. */
const SAME_PLACE = 8;
const ROOM = 18;
const ROW = 6;

/** How far marks at these places are put aside so that none covers another one, pixels to the right and up. */
export function putAside(places: readonly { readonly x: number; readonly y: number }[]): { x: number; y: number }[] {
  const taken = new Map<string, number>();
  return places.map(({ x, y }) => {
    const place = `${Math.round(x / SAME_PLACE)} ${Math.round(y / SAME_PLACE)}`;
    const before = taken.get(place) ?? 0;
    taken.set(place, before + 1);
    return { x: (before % ROW) * ROOM, y: Math.floor(before / ROW) * ROOM };
  });
}

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
    const places = this.#marks.map(({ finding: { x, y, z } }) => project(camera, size, [x, y, z]));
    const aside = putAside(places);
    this.#marks.forEach(({ button }, i) => {
      const [x, y] = [places[i].x + aside[i].x, places[i].y - aside[i].y];
      const seen = x > -20 && y > -20 && x < size.width + 20 && y < size.height + 20;
      button.hidden = !seen;
      button.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px) translate(-50%, -130%)`;
    });
  }
}
