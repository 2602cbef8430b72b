// The picture leaves the view: copied to the clipboard, saved as it is seen, or as a drawing to scale.
import { PathStyle } from '../../server/src/core/geometry/packedLayout.ts';
import type { DrawnKind } from '../../server/src/core/geometry/pathRequestDrawing.ts';
import type { ViewName } from './camera.ts';
import type { Frame } from './frame.ts';
import type { FromView } from './messages.ts';
import type { NoWebgl } from './noWebgl.ts';
import type { Picture } from './picture.ts';
import { composed, pngOf } from './picturesOutCanvas.ts';
import type { Theme } from './theme.ts';

/** What the parts know of the view. */
export interface Seen {
  readonly frame: Frame;
  readonly picture: Picture;
  /** What draws where there is no WebGL. */
  readonly flat: NoWebgl | undefined;
  program(): { readonly uri: string; readonly name: string };
  view(): ViewName;
  theme(): Theme;
  /** Values of `PathStyle`, and places in the list of tool sections, that are left out. */
  hidden(): { readonly kinds: readonly number[]; readonly sections: readonly number[] };
  /** Draws now. */
  draw(): void;
  say(message: FromView): void;
}

const PLANES: Readonly<Partial<Record<ViewName, 'XY' | 'ZX' | 'YZ'>>> = { top: 'XY', front: 'ZX', side: 'YZ' };

const KIND_NAMES: Readonly<Record<number, DrawnKind>> = {
  [PathStyle.rapid]: 'rapid',
  [PathStyle.cut]: 'cut',
  [PathStyle.plunge]: 'plunge',
  [PathStyle.helix]: 'helix',
  [PathStyle.arc]: 'arc',
};

/** How long the word on a copied picture stays, ms. */
const SAID_FOR = 6_000;

/** A button that unfolds what can be done with the picture. */
export class PicturesOut {
  readonly element = document.createElement('div');
  readonly #seen: Seen;
  readonly #opener = button('Picture', 'Copy or save what is seen');
  readonly #list = document.createElement('div');
  readonly #drawing: HTMLButtonElement;
  readonly #said = document.createElement('span');
  #gone: ReturnType<typeof setTimeout> | undefined;

  constructor(seen: Seen) {
    this.#seen = seen;
    this.element.className = 'out';
    this.#list.className = 'list';
    this.#list.id = 'path-picture-list';
    this.#list.hidden = true;
    this.#opener.setAttribute('aria-expanded', 'false');
    this.#opener.setAttribute('aria-controls', this.#list.id);
    this.#said.className = 'said';
    this.#said.setAttribute('role', 'status');
    this.#drawing = this.#item('Save drawing (SVG)…', () => this.#saveDrawing());
    this.#list.append(
      this.#item('Copy picture', () => void this.#copy()),
      this.#item('Save picture (PNG)…', () => void this.#savePicture()),
      this.#drawing,
    );
    this.element.append(this.#opener, this.#list, this.#said);
    this.#opener.addEventListener('click', () => this.#unfold(this.#list.hidden === true));
    this.element.addEventListener('keydown', (event) => {
      if (event.key === 'Escape' && !this.#list.hidden) {
        this.#unfold(false);
        this.#opener.focus();
      }
    });
    this.element.addEventListener('focusout', ({ relatedTarget }) => {
      // A click beside it folds it up; another window does not.
      if (document.hasFocus() && !(relatedTarget instanceof Node && this.element.contains(relatedTarget))) {
        this.#unfold(false);
      }
    });
  }

  #item(label: string, act: () => void): HTMLButtonElement {
    const made = button(label, '');
    made.addEventListener('click', () => {
      this.#unfold(false);
      this.#opener.focus();
      act();
    });
    return made;
  }

  #unfold(isOpen: boolean): void {
    this.#list.hidden = !isOpen;
    this.#opener.setAttribute('aria-expanded', String(isOpen));
    const plane = PLANES[this.#seen.view()];
    this.#drawing.disabled = plane === undefined;
    this.#drawing.title = plane
      ? `To scale in the ${plane} plane, arcs as arcs, with dimensions`
      : 'A drawing to scale is flat: choose Top, Front or Side first';
  }

  async #copy(): Promise<void> {
    try {
      const picture = pngOf(this.#canvas());
      await navigator.clipboard.write([new ClipboardItem({ 'image/png': picture })]);
      this.#say('The picture is on the clipboard.');
    } catch {
      this.#say('The picture could not be copied: this window may not write to the clipboard. Save it instead.');
    }
  }

  async #savePicture(): Promise<void> {
    const [{ uri }, view] = [this.#seen.program(), this.#seen.view()];
    const picture = await pngOf(this.#canvas());
    this.#seen.say({ type: 'savePicture', uri, view, data: await picture.arrayBuffer() });
  }

  #saveDrawing(): void {
    const plane = PLANES[this.#seen.view()];
    const { kinds, sections } = this.#seen.hidden();
    if (plane) {
      this.#seen.say({
        type: 'saveDrawing',
        uri: this.#seen.program().uri,
        plane,
        units: this.#seen.picture.inch ? 'inch' : 'mm',
        hiddenKinds: kinds.flatMap((kind) => KIND_NAMES[kind] ?? []),
        hiddenSections: sections,
      });
    }
  }

  /** All that is seen, with words below it. What WebGL has drawn is gone after the turn it was drawn in. */
  #canvas(): HTMLCanvasElement {
    const { frame, flat } = this.#seen;
    this.#seen.draw();
    const view = frame.views.get(this.#seen.view())?.textContent ?? '';
    const { background, foreground } = this.#seen.theme();
    return composed({
      canvases: flat ? [frame.backdrop, frame.over] : [frame.backdrop, frame.canvas, frame.over],
      between: flat && ((context) => flat.paint(context)),
      marks: [...frame.marks.querySelectorAll<HTMLElement>(':scope:not([hidden]) .mark:not([hidden])')],
      background,
      foreground,
      words: [
        `${this.#seen.program().name}, ${view}`,
        [...frame.extents.children].map((part) => part.textContent).join('   '),
      ],
    });
  }

  #say(text: string): void {
    clearTimeout(this.#gone);
    this.#said.textContent = text;
    this.#gone = setTimeout(() => this.#said.replaceChildren(), SAID_FOR);
  }
}

function button(label: string, title: string): HTMLButtonElement {
  const made = document.createElement('button');
  made.type = 'button';
  made.className = 'tool';
  made.textContent = label;
  made.title = title;
  return made;
}
