// The parts of the page: buttons above, the picture, the read-outs below.
import { PathStyle } from '../../server/src/core/geometry/packedLayout.ts';
import type { ViewName } from './camera.ts';

/** The page's parts. */
export interface Frame {
  readonly backdrop: HTMLCanvasElement;
  readonly canvas: HTMLCanvasElement;
  readonly marks: HTMLElement;
  readonly tools: HTMLElement;
  readonly views: ReadonlyMap<ViewName, HTMLButtonElement>;
  readonly fit: HTMLButtonElement;
  /** A word for each kind of line, to be given its colour. */
  readonly key: ReadonlyMap<number, HTMLElement>;
  /** Where the pointer is. */
  readonly pointer: HTMLElement;
  readonly extents: HTMLElement;
  /** Words on what is shown: assumed axes, findings without a place, trouble. */
  readonly notes: HTMLElement;
  /** Words in the middle, where there is nothing to show. */
  readonly notice: HTMLElement;
}

const VIEW_BUTTONS: readonly (readonly [ViewName, string, string])[] = [
  ['top', 'Top XY', 'From above: X to the right, Y up'],
  ['front', 'Front ZX', 'From the front: X to the right, Z up'],
  ['side', 'Side YZ', 'From the right-hand side: Y to the right, Z up'],
  ['space', 'Space', 'From anywhere: drag to turn, with Shift to move'],
];

/** Kinds of line and the word for each, which is its class as well. */
const KEY: readonly (readonly [number, string])[] = [
  [PathStyle.cut, 'cut'],
  [PathStyle.rapid, 'rapid'],
  [PathStyle.plunge, 'plunge'],
  [PathStyle.helix, 'helix'],
];

function part<Tag extends keyof HTMLElementTagNameMap>(tag: Tag, className: string): HTMLElementTagNameMap[Tag] {
  const element = document.createElement(tag);
  element.className = className;
  return element;
}

function button(label: string, title: string): HTMLButtonElement {
  const made = part('button', 'tool');
  made.type = 'button';
  made.textContent = label;
  made.title = title;
  return made;
}

/** Builds the page into an element. */
export function buildFrame(into: HTMLElement): Frame {
  const backdrop = part('canvas', 'backdrop');
  const canvas = part('canvas', 'picture');
  canvas.tabIndex = 0;
  canvas.setAttribute('role', 'img');
  canvas.setAttribute(
    'aria-label',
    'Path of the program. Arrow keys move the picture, plus and minus enlarge and reduce it.',
  );
  const tools = part('div', 'tools');
  tools.setAttribute('role', 'toolbar');
  tools.setAttribute('aria-label', 'View');
  const views = new Map(VIEW_BUTTONS.map(([view, label, title]) => [view, button(label, title)] as const));
  const fit = button('Fit', 'Everything into the picture');
  const key = new Map(KEY.map(([style, word]) => [style, part('span', `kind ${word}`)] as const));
  for (const [style, word] of KEY) {
    key.get(style)?.append(word);
  }
  tools.append(...views.values(), fit, ...key.values());
  const marks = part('div', 'marks');
  const foot = part('div', 'foot');
  const [pointer, extents, notes] = [part('div', 'pointer'), part('div', 'extents'), part('div', 'notes')];
  notes.setAttribute('role', 'status');
  const caution = part('div', 'caution');
  caution.textContent =
    'Programmed path of the tool centre; holder, clamps and stock are not shown. Prove it in the air.';
  foot.append(pointer, extents, notes, caution);
  const notice = part('div', 'notice');
  notice.setAttribute('role', 'status');
  notice.hidden = true;
  // The foot lies below the picture, not over it: a browser that draws by software leaves out a strip of a WebGL canvas
  // that is covered at its other end.
  const stage = part('div', 'stage');
  stage.append(canvas, backdrop, marks, notice, tools);
  into.replaceChildren(stage, foot);
  return { backdrop, canvas, marks, tools, views, fit, key, pointer, extents, notes, notice };
}
