// Measuring by pointer and by keys: which points and moves were set, what is drawn of them, and what the panel says.
import type { PathMove } from '../../server/src/core/geometry/pathRequestMove.ts';
import { pan, pointAt, type ViewName } from './camera.ts';
import { type MeasuredPoint, movesTexts, moveTexts, pointsTexts } from './measure.ts';
import { drawMeasured } from './measureDraw.ts';
import { type MeasureMode, MeasurePanel } from './measurePanel.ts';
import type { Sight, Way } from './sight.ts';
import type { Snapped } from './snap.ts';
import type { Theme } from './theme.ts';

type Place = { readonly x: number; readonly y: number };

/** What measuring needs of the view beside what is seen. */
export interface Measurable {
  explain(way: Way): Promise<PathMove | null>;
  pointer(): Place | undefined;
  /** The cross-hair that is moved by keys stands here now. */
  movePointer(place: Place | undefined): void;
  copy(text: string): Promise<boolean>;
  /** Something is to be drawn or said anew. */
  changed(): void;
}

const HELP: Readonly<Record<MeasureMode, readonly string[]>> = {
  points: ['Click the first point', 'Click the second point', 'Click for a new first point'],
  move: ['Click a move', 'Click another move'],
  moves: ['Click the first move', 'Click the second move', 'Click for a new first move'],
};
const KEYS = 'or arrow keys (Shift: fine, N and Shift+N: from end to end) and Enter. Esc ends.';
const NOTHING = 'No path here. In space a point lies on the path: click a line, an end or a centre.';
const NO_MOVE = 'No move here. Click nearer to a line.';
const STEP = 12;

/** See the top of the file. */
export class MeasureTool {
  readonly panel: MeasurePanel;
  readonly #button: HTMLButtonElement;
  readonly #sight: Sight;
  readonly #of: Measurable;
  #mode: MeasureMode = 'points';
  #isOn = false;
  #points: readonly MeasuredPoint[] = [];
  #moves: readonly PathMove[] = [];
  #byKeys = false;
  /** The end that was reached by keys last. */
  #atEnd: Snapped | undefined;
  #trouble = '';
  #asked = 0;
  /** The view that it is measured in. */
  #view: ViewName | undefined;

  constructor(button: HTMLButtonElement, sight: Sight, of: Measurable) {
    this.#button = button;
    button.addEventListener('click', () => this.toggle());
    this.#sight = sight;
    this.#of = of;
    this.panel = new MeasurePanel({
      choose: (mode) => {
        this.#mode = mode;
        this.clear();
      },
      copy: () => void this.copy(),
      clear: () => this.clear(),
      close: () => this.toggle(),
    });
    this.#say();
  }

  get isOn(): boolean {
    return this.#isOn;
  }

  /** Begins or ends measuring. */
  toggle(): void {
    // What the keys moved goes with them; a mouse that is there shows again as soon as it moves.
    if (this.#isOn) {
      this.#of.movePointer(undefined);
    }
    this.#isOn = !this.#isOn;
    this.panel.element.hidden = !this.#isOn;
    this.#button.setAttribute('aria-pressed', String(this.#isOn));
    this.clear();
  }

  /** Forgets what was set: it is measured anew, or the path has become another one. */
  clear(): void {
    this.#points = [];
    this.#moves = [];
    this.#byKeys = false;
    this.#atEnd = undefined;
    this.#asked++;
    this.#trouble = '';
    this.#changed();
  }

  /** A click on the picture while measuring. */
  click(place: Place): void {
    if (this.#mode === 'points') {
      const point = this.#pointAt(place);
      this.#trouble = point ? '' : NOTHING;
      this.#points = point ? [...(this.#points.length < 2 ? this.#points : []), point] : this.#points;
      this.#changed();
    } else {
      void this.#takeMove(place);
    }
  }

  /** A key on the picture while measuring; true if it was for measuring. */
  key(event: KeyboardEvent): boolean {
    if (!this.#isOn || event.ctrlKey || event.altKey || event.metaKey) {
      return false;
    }
    const arrow = ARROWS[event.key];
    if (arrow) {
      const step = event.shiftKey ? 1 : STEP;
      this.#moveCross(arrow[0] * step, arrow[1] * step);
    } else if (event.key === 'Enter') {
      this.click(this.#cross());
    } else if (event.key === 'Escape') {
      this.#escape();
    } else if (event.key === 'n' || event.key === 'N') {
      this.#goToEnd(event.shiftKey ? -1 : 1);
    } else {
      return false;
    }
    return true;
  }

  /** The pointer was moved by hand: the cross-hair of the keys goes. */
  pointed(): void {
    this.#byKeys = false;
    this.#atEnd = undefined;
  }

  /** Copies what is measured as text. */
  async copy(): Promise<void> {
    const text = this.#texts().join('\n');
    if (text && !(await this.#of.copy(text))) {
      this.#trouble = 'This window may not copy. Mark the text and press Ctrl+C.';
      this.#say();
    }
  }

  /** Draws what was set, over the path. */
  draw(context: CanvasRenderingContext2D, theme: Theme): void {
    if (!this.#isOn) {
      return;
    }
    this.#seenIn(this.#sight.camera().view);
    const pointer = this.#of.pointer();
    const next = pointer && this.#mode === 'points' && this.#points.length === 1 ? this.#pointAt(pointer) : undefined;
    drawMeasured(context, {
      camera: this.#sight.camera(),
      size: this.#sight.size(),
      theme,
      inch: this.#sight.inch(),
      points: next ? [...this.#points, next] : this.#points,
      moves: this.#moves,
      cross: this.#byKeys ? pointer : undefined,
    });
  }

  /** In another view it is measured in another plane, and a free point has no depth there. */
  #seenIn(view: ViewName): void {
    if (view !== this.#view) {
      this.#view = view;
      this.#points = this.#points.some(({ kind }) => kind === 'free') ? [] : this.#points;
      this.#say();
    }
  }

  #escape(): void {
    if (this.#points.length + this.#moves.length > 0 || this.#trouble) {
      this.clear();
    } else {
      this.toggle();
    }
  }

  /** The point that a click here sets. */
  #pointAt(place: Place): MeasuredPoint | undefined {
    const snapped = this.#snapped(place);
    if (snapped) {
      return { kind: snapped.kind, at: snapped.at };
    }
    const camera = this.#sight.camera();
    if (camera.view !== 'space') {
      return { kind: 'free', at: pointAt(camera, this.#sight.size(), place.x, place.y) };
    }
    const picked = this.#sight.pick(place);
    return picked && { kind: 'path', at: picked.at };
  }

  /** The move that a click here means: by keys the one that ends there, though others pass through the same place. */
  #wayAt(place: Place): Way | undefined {
    return (this.#isAtEnd(place) && this.#atEnd && this.#sight.wayTo(this.#atEnd)) || this.#sight.pick(place);
  }

  #isAtEnd(place: Place): boolean {
    const pointer = this.#of.pointer();
    return pointer?.x === place.x && pointer.y === place.y;
  }

  /** An end that was reached by keys counts, though another one may lie before it. */
  #snapped(place: Place): Snapped | undefined {
    return this.#isAtEnd(place) && this.#atEnd ? this.#atEnd : this.#sight.snap(place);
  }

  async #takeMove(place: Place): Promise<void> {
    const way = this.#wayAt(place);
    const asked = ++this.#asked;
    const move = way && (await this.#of.explain(way));
    if (asked !== this.#asked) {
      return;
    }
    this.#trouble = move ? '' : NO_MOVE;
    if (move) {
      const most = this.#mode === 'moves' ? 2 : 1;
      this.#moves = [...(this.#moves.length < most ? this.#moves : []), move];
    }
    this.#changed();
  }

  #cross(): Place {
    const { width, height } = this.#sight.size();
    return this.#of.pointer() ?? { x: Math.round(width / 2), y: Math.round(height / 2) };
  }

  /** Moves the cross-hair; at the edge the picture goes along. */
  #moveCross(dx: number, dy: number): void {
    const { width, height } = this.#sight.size();
    const from = this.#cross();
    const [x, y] = [from.x + dx, from.y + dy];
    this.#atEnd = undefined;
    this.#byKeys = true;
    if (x < 0 || y < 0 || x > width || y > height) {
      this.#sight.look(pan(this.#sight.camera(), -dx * 4, -dy * 4));
      this.#of.movePointer({ x: from.x - dx * 3, y: from.y - dy * 3 });
    } else {
      this.#of.movePointer({ x, y });
    }
  }

  /** The cross-hair goes to the next end in the order of the run; the picture follows where it must. */
  #goToEnd(step: 1 | -1): void {
    let end = this.#sight.nextEnd(this.#atEnd ?? this.#sight.snap(this.#cross()), step);
    while (end && this.#mode !== 'points' && !this.#sight.wayTo(end)) {
      end = this.#sight.nextEnd(end, step);
    }
    if (!end) {
      return;
    }
    const { width, height } = this.#sight.size();
    const seen = this.#sight.project(end);
    const isSeen = seen.x > 60 && seen.y > 40 && seen.x < width - 20 && seen.y < height - 30;
    if (!isSeen) {
      this.#sight.look(pan(this.#sight.camera(), width / 2 - seen.x, height / 2 - seen.y));
    }
    this.#byKeys = true;
    this.#atEnd = end;
    this.#of.movePointer(this.#sight.project(end));
  }

  #texts(): string[] {
    const [inch, { view }] = [this.#sight.inch(), this.#sight.camera()];
    const [first, second] = this.#points;
    if (first && second) {
      return pointsTexts(first, second, view, inch);
    }
    const [one, other] = this.#moves;
    if (one && other) {
      return movesTexts(one, other, view, inch);
    }
    return one && this.#mode === 'move' ? moveTexts(one, inch) : [];
  }

  #changed(): void {
    this.#say();
    this.#of.changed();
  }

  #say(): void {
    const set = this.#points.length + this.#moves.length;
    const help = `${HELP[this.#mode][Math.min(set, HELP[this.#mode].length - 1)]} ${KEYS}`;
    this.panel.show(this.#mode, this.#texts(), this.#trouble || help);
  }
}

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};
