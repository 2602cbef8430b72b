// The move under a resting pointer in words, and the centre and radius of its arc.
import type { PathMove } from '../../server/src/core/geometry/pathRequestMove.ts';
import { type Camera, type Point, project, type Size } from './camera.ts';
import { lineText } from './lineText.ts';
import { lengthText } from './numbers.ts';
import { drawLabel, drawSign } from './overlay.ts';
import type { Picked } from './pick.ts';
import type { Theme } from './theme.ts';

type Place = { readonly x: number; readonly y: number };

/** What the tip asks. */
interface Asked {
  pick(place: Place): Picked | undefined;
  explain(picked: Picked): Promise<PathMove | null>;
  camera(): Camera;
  size(): Size;
  /** The arc that is marked is another one. */
  changed(): void;
}

/** The pointer has come to rest, ms. */
const REST = 250;
/** Room between pointer and words, which must not cover the coordinates beside the pointer. */
const AWAY = { x: 14, y: 34 };

/** See the top of the file. */
export class MoveTip {
  readonly #element = document.createElement('div');
  readonly #asked: Asked;
  #timer: ReturnType<typeof setTimeout> | undefined;
  /** How often the pointer has moved; an answer to an earlier place counts no longer. */
  #round = 0;
  #move: PathMove | undefined;

  constructor(into: HTMLElement, asked: Asked) {
    this.#asked = asked;
    this.#element.className = 'tip';
    this.#element.setAttribute('role', 'tooltip');
    this.#element.hidden = true;
    into.append(this.#element);
  }

  /** The pointer is at a place, or has left. */
  pointed(place: Place | undefined): void {
    this.hide();
    if (place) {
      const round = this.#round;
      this.#timer = setTimeout(() => void this.#rest(place, round), REST);
    }
  }

  /** Nothing is explained until the pointer moves again. */
  hide(): void {
    this.#round++;
    clearTimeout(this.#timer);
    if (this.#move) {
      this.#move = undefined;
      this.#element.hidden = true;
      this.#asked.changed();
    }
  }

  async #rest(place: Place, round: number): Promise<void> {
    const found = this.#asked.pick(place);
    const move = found && (await this.#asked.explain(found));
    if (!move || round !== this.#round) {
      return;
    }
    this.#move = move;
    this.#element.replaceChildren(
      ...wordsOf(move).map((text) => {
        const line = document.createElement('div');
        line.textContent = text;
        return line;
      }),
    );
    this.#element.hidden = false;
    this.#place(place, move);
    this.#asked.changed();
  }

  /** Puts the words beside the pointer, inside the picture and, where there is room, beside the arc's centre. */
  #place({ x, y }: Place, { centre }: PathMove): void {
    const size = this.#asked.size();
    const { offsetWidth: width, offsetHeight: height } = this.#element;
    const centreAt = centre && pointOf(centre);
    const kept = centreAt && project(this.#asked.camera(), size, centreAt);
    const corners = [y + AWAY.y, y - AWAY.x - height].flatMap((top) =>
      [x + AWAY.x, x - AWAY.x - width].map((left) => ({
        left: Math.max(4, Math.min(left, size.width - width - 4)),
        top: Math.max(4, Math.min(top, size.height - height - 4)),
      })),
    );
    const covers = ({ left, top }: { left: number; top: number }, at: Place): boolean =>
      at.x > left - 12 && at.x < left + width + 12 && at.y > top - 12 && at.y < top + height + 12;
    const free = corners.filter((corner) => !covers(corner, { x, y }));
    const { left, top } = free.find((corner) => !kept || !covers(corner, kept)) ?? free[0] ?? corners[0];
    this.#element.style.transform = `translate(${left.toFixed(0)}px, ${top.toFixed(0)}px)`;
  }

  /** Marks the centre of the arc that is explained, with its radius. */
  draw(context: CanvasRenderingContext2D, camera: Camera, theme: Theme, inch: boolean): void {
    const move = this.#move;
    const centre = move?.centre && pointOf(move.centre);
    const end = move && pointOf(move.to);
    if (!centre || !end) {
      return;
    }
    const size = this.#asked.size();
    const [at, to] = [project(camera, size, centre), project(camera, size, end)];
    if (Number.isNaN(at.x + to.x)) {
      return;
    }
    context.strokeStyle = theme.foreground;
    context.lineWidth = 1;
    context.setLineDash([6, 3]);
    context.beginPath();
    context.moveTo(at.x, at.y);
    context.lineTo(to.x, to.y);
    context.stroke();
    context.setLineDash([]);
    drawSign(context, theme, 'centre', at.x, at.y);
    if (move.radius != null) {
      drawLabel(context, theme, size, radiusText(move.radius, inch), at.x, at.y + 18);
    }
  }
}

const radiusText = (radius: number, inch: boolean): string => `R ${lengthText(radius, inch)}`;

/** The same words as hover has, under the number of the line and, where it is run more than once, the pass. */
const wordsOf = (move: PathMove): string[] => [lineText(move), ...move.text];

const pointOf = ([x, y, z]: PathMove['to']): Point | undefined =>
  x === null || y === null || z === null ? undefined : [x, y, z];
