// What lies behind the path: the grid to scale, the work zero, and which way the axes point.
import { basisOf, type Camera, type Point, pointAt, project, type Size, type ViewName } from './camera.ts';
import { gridStep, gridText, unitName } from './numbers.ts';
import type { Theme } from './theme.ts';

/** Indexes of the axes in the plane of the grid: first to the right, second up. In space the grid lies on the table. */
export const PLANE_AXES: Readonly<Record<ViewName, readonly [0 | 1 | 2, 0 | 1 | 2]>> = {
  top: [0, 1],
  front: [0, 2],
  side: [1, 2],
  space: [0, 1],
};

/** The names of the axes by index. */
export const AXIS_NAMES = ['X', 'Y', 'Z'] as const;

const ARROW = 46;
const MOST_LINES = 400;

/** Draws everything behind the path; `bounds` limit the grid in space. */
export function drawBackdrop(
  context: CanvasRenderingContext2D,
  camera: Camera,
  size: Size,
  theme: Theme,
  inch: boolean,
  bounds: ArrayLike<number>,
): void {
  context.fillStyle = theme.background;
  context.fillRect(0, 0, size.width, size.height);
  context.font = `11px ${getComputedStyle(document.body).fontFamily || 'sans-serif'}`;
  const step = gridStep(camera.scale, inch, camera.view === 'space' ? 40 : 24);
  if (camera.view === 'space') {
    drawTable(context, camera, size, theme, step, bounds);
  } else {
    drawGrid(context, camera, size, theme, step, inch);
  }
  drawZero(context, camera, size, theme);
  context.fillStyle = theme.foreground;
  context.globalAlpha = 0.75;
  context.textAlign = 'right';
  context.textBaseline = 'bottom';
  context.fillText(`grid ${gridText(step, step, inch)} ${unitName(inch)}`, size.width - 8, size.height - 20);
  context.globalAlpha = 1;
}

function line(context: CanvasRenderingContext2D, x0: number, y0: number, x1: number, y1: number): void {
  context.beginPath();
  context.moveTo(x0, y0);
  context.lineTo(x1, y1);
  context.stroke();
}

/** The grid of a flat view over the whole canvas, with numbers along two edges. */
function drawGrid(
  context: CanvasRenderingContext2D,
  camera: Camera,
  size: Size,
  theme: Theme,
  step: number,
  inch: boolean,
): void {
  const [first, second] = PLANE_AXES[camera.view];
  const least = pointAt(camera, size, 0, size.height);
  const greatest = pointAt(camera, size, size.width, 0);
  context.strokeStyle = theme.grid;
  context.fillStyle = theme.foreground;
  for (const axis of [first, second]) {
    for (let k = Math.ceil(least[axis] / step); k * step <= greatest[axis]; k++) {
      const at: [number, number, number] = [...camera.target];
      at[axis] = k * step;
      const { x, y } = project(camera, size, at);
      // Every fifth line is stronger and has its number.
      const strong = k % 5 === 0;
      context.lineWidth = k === 0 ? 1.5 : 1;
      context.globalAlpha = strong ? 0.6 : 0.25;
      if (axis === first) line(context, x, 0, x, size.height);
      else line(context, 0, y, size.width, y);
      if (strong) {
        number(context, axis === first ? x : 6, axis === first ? size.height - 2 : y, gridText(k * step, step, inch));
      }
    }
  }
  context.globalAlpha = 1;
}

function number(context: CanvasRenderingContext2D, x: number, y: number, text: string): void {
  context.globalAlpha = 0.75;
  context.textAlign = 'left';
  context.textBaseline = 'bottom';
  context.fillText(text, x + 3, y - 1);
}

/** A grid on Z0 under what is drawn, seen in space. */
function drawTable(
  context: CanvasRenderingContext2D,
  camera: Camera,
  size: Size,
  theme: Theme,
  step: number,
  bounds: ArrayLike<number>,
): void {
  const some = bounds[0] <= bounds[3];
  const low = (axis: number): number => Math.floor(Math.min(0, some ? bounds[axis] : 0) / step - 1);
  const high = (axis: number): number => Math.ceil(Math.max(0, some ? bounds[axis + 3] : 0) / step + 1);
  if (high(0) - low(0) + high(1) - low(1) > MOST_LINES) {
    return;
  }
  context.strokeStyle = theme.grid;
  context.lineWidth = 1;
  const between = (from: Point, to: Point, strong: boolean): void => {
    const [a, b] = [project(camera, size, from), project(camera, size, to)];
    context.globalAlpha = strong ? 0.6 : 0.25;
    line(context, a.x, a.y, b.x, b.y);
  };
  for (let k = low(0); k <= high(0); k++) {
    between([k * step, low(1) * step, 0], [k * step, high(1) * step, 0], k % 5 === 0);
  }
  for (let k = low(1); k <= high(1); k++) {
    between([low(0) * step, k * step, 0], [high(0) * step, k * step, 0], k % 5 === 0);
  }
  context.globalAlpha = 1;
}

/** The work zero: a small square, an arrow along each axis that can be seen, and the axis' letter. */
function drawZero(context: CanvasRenderingContext2D, camera: Camera, size: Size, theme: Theme): void {
  const zero = project(camera, size, [0, 0, 0]);
  const { right, up } = basisOf(camera);
  context.strokeStyle = theme.foreground;
  context.fillStyle = theme.foreground;
  context.lineWidth = 1.5;
  context.strokeRect(zero.x - 3.5, zero.y - 3.5, 7, 7);
  for (const axis of [0, 1, 2] as const) {
    const [dx, dy] = [right[axis] * ARROW, -up[axis] * ARROW];
    const length = Math.hypot(dx, dy);
    if (length < 4) {
      continue;
    }
    const [ux, uy] = [dx / length, dy / length];
    const [tipX, tipY] = [zero.x + dx, zero.y + dy];
    // Wide and pale, so that it still shows where the path runs along the axis.
    context.lineWidth = 5;
    context.globalAlpha = 0.45;
    line(context, zero.x + ux * 4, zero.y + uy * 4, tipX, tipY);
    context.globalAlpha = 1;
    context.beginPath();
    context.moveTo(tipX + ux * 10, tipY + uy * 10);
    context.lineTo(tipX - uy * 5.5, tipY + ux * 5.5);
    context.lineTo(tipX + uy * 5.5, tipY - ux * 5.5);
    context.fill();
    context.textAlign = 'center';
    context.textBaseline = 'middle';
    context.fillText(AXIS_NAMES[axis], tipX + ux * 19, tipY + uy * 19);
  }
}
