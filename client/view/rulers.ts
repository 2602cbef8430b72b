// The rulers of a flat view: along its left and its lower edge, in the program's unit, with the pointer's place on them.
import { AXIS_NAMES, PLANE_AXES } from './backdrop.ts';
import { type Camera, type Covered, pointAt, project, type Size, type ViewName } from './camera.ts';
import { gridStep, gridText, unitName } from './numbers.ts';
import type { Theme } from './theme.ts';

const LEFT = 48;
const BOTTOM = 20;
const TICK = 4;
const LONG_TICK = 8;
/** Free pixels between two numbers. */
const GAP = 14;
const LETTER_ROOM = 34;

/** What the rulers of a view cover; in space there are none. */
export const rulersCover = (view: ViewName): Pick<Covered, 'left' | 'bottom'> =>
  view === 'space' ? { left: 0, bottom: 0 } : { left: LEFT, bottom: BOTTOM };

/** True where the work zero is in the picture and no ruler lies over it. */
export function isZeroSeen(camera: Camera, size: Size): boolean {
  const { x, y } = project(camera, size, [0, 0, 0]);
  const { left, bottom } = rulersCover(camera.view);
  return x >= left && y >= 0 && x <= size.width && y <= size.height - bottom;
}

/** What rulers are drawn by. */
export interface Ruled {
  readonly camera: Camera;
  readonly size: Size;
  readonly theme: Theme;
  readonly inch: boolean;
  /** Pixels at the upper edge that are covered by something else. */
  readonly top: number;
  /** Where the pointer is, CSS pixels. */
  readonly pointer: { readonly x: number; readonly y: number } | undefined;
}

/** Draws both rulers; nothing in space. */
export function drawRulers(context: CanvasRenderingContext2D, ruled: Ruled): void {
  const { camera, size, theme, inch, top, pointer } = ruled;
  if (camera.view === 'space') {
    return;
  }
  const floor = size.height - BOTTOM;
  context.fillStyle = theme.background;
  context.fillRect(0, top, LEFT, size.height - top);
  context.fillRect(0, floor, size.width, BOTTOM);
  context.strokeStyle = theme.foreground;
  context.fillStyle = theme.foreground;
  context.lineWidth = 1;
  context.globalAlpha = 0.5;
  stroke(context, LEFT - 0.5, top, LEFT - 0.5, floor);
  stroke(context, LEFT, floor + 0.5, size.width, floor + 0.5);
  const [first, second] = PLANE_AXES[camera.view];
  drawScale(context, ruled, first, true);
  drawScale(context, ruled, second, false);
  context.globalAlpha = 1;
  context.textBaseline = 'middle';
  context.textAlign = 'center';
  context.fillText(unitName(inch), LEFT / 2, floor + BOTTOM / 2 + 1);
  drawLetters(context, size, top, [AXIS_NAMES[first], AXIS_NAMES[second]]);
  if (pointer) {
    triangle(context, Math.max(LEFT, pointer.x), floor, 0, 1);
    triangle(context, LEFT, Math.min(floor, Math.max(top, pointer.y)), -1, 0);
  }
}

/** The ticks and numbers of one axis. */
function drawScale(context: CanvasRenderingContext2D, ruled: Ruled, axis: 0 | 1 | 2, isAcross: boolean): void {
  const { camera, size, inch, top } = ruled;
  const step = gridStep(camera.scale, inch);
  const floor = size.height - BOTTOM;
  const from = pointAt(camera, size, LEFT, floor)[axis];
  const to = pointAt(camera, size, size.width - LETTER_ROOM, top + LETTER_ROOM - 6)[axis];
  const [first, last] = [Math.ceil(from / step), Math.floor(to / step)];
  const texts = [first * step, last * step].map((value) => context.measureText(gridText(value, step, inch)).width);
  const every = numbersEvery(step * camera.scale, isAcross ? Math.max(...texts) + GAP : 12 + GAP);
  context.textAlign = isAcross ? 'center' : 'right';
  context.textBaseline = 'middle';
  for (let k = first; k <= last; k++) {
    const at: [number, number, number] = [...camera.target];
    at[axis] = k * step;
    const { x, y } = project(camera, size, at);
    const isNumbered = k % every === 0;
    const tick = isNumbered ? LONG_TICK : TICK;
    context.globalAlpha = isNumbered ? 0.9 : 0.5;
    if (isAcross) {
      stroke(context, x, floor, x, floor + tick);
    } else {
      stroke(context, LEFT - tick, y, LEFT, y);
    }
    if (isNumbered) {
      context.globalAlpha = 0.9;
      const text = gridText(k * step, step * (every % 5 === 0 ? every : 1), inch);
      context.fillText(text, isAcross ? x : LEFT - LONG_TICK - 3, isAcross ? floor + BOTTOM - 5 : y);
    }
  }
}

/** Every how many steps there is a number, so that numbers have so much room, pixels. */
export function numbersEvery(stepPixels: number, room: number): number {
  return [1, 2, 5, 10, 20, 50].find((count) => count * stepPixels >= room) ?? 100;
}

/** The axes' letters at the ends of the rulers, each with the way it grows. */
function drawLetters(
  context: CanvasRenderingContext2D,
  size: Size,
  top: number,
  [across, upward]: readonly [string, string],
): void {
  context.textAlign = 'right';
  context.fillText(`${across}→`, size.width - 3, size.height - BOTTOM / 2 + 1);
  context.textAlign = 'center';
  context.fillText(`${upward}↑`, LEFT / 2, top + 11);
}

function stroke(context: CanvasRenderingContext2D, x0: number, y0: number, x1: number, y1: number): void {
  context.beginPath();
  context.moveTo(x0, y0);
  context.lineTo(x1, y1);
  context.stroke();
}

/** A small triangle that points from the ruler into the picture. */
function triangle(context: CanvasRenderingContext2D, x: number, y: number, dx: number, dy: number): void {
  context.beginPath();
  context.moveTo(x, y);
  context.lineTo(x + 7 * dx + 4 * dy, y + 7 * dy + 4 * dx);
  context.lineTo(x + 7 * dx - 4 * dy, y + 7 * dy - 4 * dx);
  context.fill();
}
