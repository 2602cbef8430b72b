// The parts of the page: buttons above, the picture, the read-outs below.
import type { ViewName } from './camera.ts';

/** The page's parts. */
export interface Frame {
  /** The picture with what lies over it. */
  readonly stage: HTMLElement;
  /** The stage and what stands beside it. */
  readonly desk: HTMLElement;
  readonly backdrop: HTMLCanvasElement;
  readonly canvas: HTMLCanvasElement;
  readonly marks: HTMLElement;
  /** Rulers, sizes and what is measured, over the path. */
  readonly over: HTMLCanvasElement;
  readonly tools: HTMLElement;
  readonly views: ReadonlyMap<ViewName, HTMLButtonElement>;
  readonly fit: HTMLButtonElement;
  /** Fits the lit lines in. */
  readonly fitLit: HTMLButtonElement;
  readonly measure: HTMLButtonElement;
  /** Whether the panel goes along with the editor. */
  readonly follow: HTMLButtonElement;
  /** Opens the sheet on which one says what is shown. */
  readonly shown: HTMLButtonElement;
  /** What lines and colours mean. */
  readonly legend: HTMLElement;
  /** The bar of the playback. */
  readonly play: HTMLElement;
  /** Where the pointer is. */
  readonly pointer: HTMLElement;
  /** Words on the repair that is drawn, in the pointer's line. */
  readonly ghost: HTMLElement;
  readonly extents: HTMLElement;
  /** Words on what is shown: assumed axes, findings without a place, trouble. */
  readonly notes: HTMLElement;
  /** Words in the middle, where there is nothing to show. */
  readonly notice: HTMLElement;
}

const VIEW_BUTTONS: readonly (readonly [ViewName, string, string])[] = [
  ['top', 'Top XY', 'From above: X to the right, Y up (1)'],
  ['front', 'Front ZX', 'From the front: X to the right, Z up (2)'],
  ['side', 'Side YZ', 'From the right-hand side: Y to the right, Z up (3)'],
  ['space', 'Space', 'From anywhere: drag to turn, with Shift to move (4)'],
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
  canvas.setAttribute('aria-describedby', 'path-summary');
  canvas.setAttribute(
    'aria-label',
    'Path of the program. Arrow keys move the picture, in space with Shift they turn it; plus and minus enlarge and reduce it.',
  );
  const tools = part('div', 'tools');
  tools.setAttribute('role', 'toolbar');
  tools.setAttribute('aria-label', 'View');
  const views = new Map(VIEW_BUTTONS.map(([view, label, title]) => [view, button(label, title)] as const));
  const fit = button('Fit', 'Everything into the picture (F)');
  const fitLit = button('Fit lines', 'The lines of the cursor or the selection into the picture (Shift+F)');
  const measure = button('Measure', 'Measure between points and moves (M)');
  measure.setAttribute('aria-pressed', 'false');
  const follow = button('Follow', 'Follow the editor: show the program of the editor that has the keyboard');
  const shown = button('Show…', 'What is shown or left out, and what the colours tell (S)');
  const legend = part('div', 'legend');
  legend.setAttribute('role', 'note');
  legend.setAttribute('aria-label', 'What lines and colours mean');
  tools.append(...views.values(), fit, fitLit, follow, shown, measure, legend);
  const marks = part('div', 'marks');
  const over = part('canvas', 'over');
  over.setAttribute('aria-hidden', 'true');
  const foot = part('div', 'foot');
  const [readout, pointer, ghost] = [part('div', 'readout'), part('span', 'pointer'), part('span', 'ghost')];
  readout.append(pointer, ghost);
  const [extents, notes] = [part('div', 'extents'), part('div', 'notes')];
  ghost.setAttribute('role', 'status');
  notes.setAttribute('role', 'status');
  const caution = part('div', 'caution');
  caution.textContent =
    'Programmed path of the tool centre; holder, clamps and stock are not shown. Prove it in the air.';
  const play = part('div', 'play');
  foot.append(play, readout, extents, notes, caution);
  const notice = part('div', 'notice');
  notice.setAttribute('role', 'status');
  notice.hidden = true;
  // The foot lies below the picture, not over it: a browser that draws by software leaves out a strip of a WebGL canvas
  // that is covered at its other end.
  const stage = part('div', 'stage');
  stage.append(canvas, backdrop, over, marks, notice, tools);
  // What is opened stands beside the stage, not over it, for the same reason.
  const desk = part('div', 'desk');
  desk.append(stage);
  into.replaceChildren(desk, foot);
  return {
    stage,
    desk,
    backdrop,
    canvas,
    marks,
    over,
    tools,
    views,
    fit,
    fitLit,
    measure,
    follow,
    shown,
    legend,
    play,
    pointer,
    ghost,
    extents,
    notes,
    notice,
  };
}
