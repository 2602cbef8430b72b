// What lies behind the path: the grid to scale, the work zero, and which way the axes point.
import { drawBox } from './boundingBox.ts';
import { basisOf, type Camera, type Point, pointAt, project, projectLine, type Size, type ViewName } from './camera.ts';
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

/** What the backdrop is drawn by. */
export interface Drawn {
  readonly camera: Camera;
  readonly size: Size;
  readonly theme: Theme;
  readonly inch: boolean;
  /** Least X Y Z, greatest X Y Z of all that is drawn; they limit the grid in space. */
  readonly bounds: ArrayLike<number>;
  /** Pixels at the upper edge that words and buttons stand on: no grid behind them in a flat view. */
  readonly top: number;
  /** The work zero can be seen. */
  readonly isZeroSeen: boolean;
  /** The box that is drawn in space, if any. */
  readonly box: ArrayLike<number> | undefined;
}

/** Draws everything behind the path. */
export function drawBackdrop(canvas: HTMLCanvasElement, drawn: Drawn): void {
  const { camera, size, theme, inch, bounds, box, isZeroSeen, top } = drawn;
  const context = canvas.getContext('2d');
  if (!context) {
    return;
  }
  const ratio = canvas.width / size.width;
  context.setTransform(ratio, 0, 0, ratio, 0, 0);
  context.fillStyle = theme.background;
  context.fillRect(0, 0, size.width, size.height);
  context.font = `11px ${getComputedStyle(document.body).fontFamily || 'sans-serif'}`;
  const inSpace = camera.view === 'space';
  let step = gridStep(camera.scale, inch, inSpace ? 40 : 24);
  if (inSpace) {
    const table = tableOf(bounds, step);
    step = table.step;
    drawTable(context, camera, size, theme, table);
    if (box) {
      drawBox(context, camera, size, theme, box);
    }
  } else {
    drawGrid(context, camera, size, theme, step, top);
  }
  if (isZeroSeen) {
    drawZero(context, camera, size, theme);
  } else if (inSpace) {
    drawCorner(context, camera, size, theme);
  }
  context.fillStyle = theme.foreground;
  context.globalAlpha = 0.75;
  context.textAlign = 'right';
  context.textBaseline = 'bottom';
  context.fillText(`grid ${gridText(step, step, inch)} ${unitName(inch)}`, size.width - 8, size.height - 24);
  context.globalAlpha = 1;
}

function line(context: CanvasRenderingContext2D, x0: number, y0: number, x1: number, y1: number): void {
  context.beginPath();
  context.moveTo(x0, y0);
  context.lineTo(x1, y1);
  context.stroke();
}

/** The grid of a flat view over the whole canvas below `top`; its numbers stand on the rulers. */
function drawGrid(
  context: CanvasRenderingContext2D,
  camera: Camera,
  size: Size,
  theme: Theme,
  step: number,
  top: number,
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
      // Every fifth line is stronger.
      context.lineWidth = k === 0 ? 1.5 : 1;
      context.globalAlpha = k % 5 === 0 ? 0.6 : 0.25;
      if (axis === first) line(context, x, top, x, size.height);
      else if (y >= top) line(context, 0, y, size.width, y);
    }
  }
  context.globalAlpha = 1;
}

/** A grid on Z0: the distance of its lines in mm, and the numbers of the first and last line across X and across Y. */
interface Table {
  readonly step: number;
  readonly low: readonly [number, number];
  readonly high: readonly [number, number];
}

/** The grid under what is drawn (least X Y Z, greatest X Y Z): from the work zero if that is not too far, and never too fine. */
export function tableOf(bounds: ArrayLike<number>, step: number): Table {
  const some = bounds[0] <= bounds[3];
  const over = (distance: number, withZero: boolean): Table => {
    const low = (axis: 0 | 1): number =>
      Math.floor((some ? Math.min(bounds[axis], withZero ? 0 : bounds[axis]) : 0) / distance - 1);
    const high = (axis: 0 | 1): number =>
      Math.ceil((some ? Math.max(bounds[axis + 3], withZero ? 0 : bounds[axis + 3]) : 0) / distance + 1);
    return { step: distance, low: [low(0), low(1)], high: [high(0), high(1)] };
  };
  const isFew = ({ low, high }: Table): boolean => high[0] - low[0] + high[1] - low[1] <= MOST_LINES;
  let table = over(step, true);
  for (let distance = step; !isFew(table) && distance < Number.MAX_VALUE; distance *= 10) {
    table = over(distance, false);
  }
  return table;
}

/** Draws the grid on Z0, seen in space. */
function drawTable(
  context: CanvasRenderingContext2D,
  camera: Camera,
  size: Size,
  theme: Theme,
  { step, low, high }: Table,
): void {
  context.strokeStyle = theme.grid;
  context.lineWidth = 1;
  const between = (from: Point, to: Point, strong: boolean): void => {
    const seen = projectLine(camera, size, from, to);
    if (seen) {
      context.globalAlpha = strong ? 0.6 : 0.25;
      line(context, seen[0].x, seen[0].y, seen[1].x, seen[1].y);
    }
  };
  for (let k = low[0]; k <= high[0]; k++) {
    between([k * step, low[1] * step, 0], [k * step, high[1] * step, 0], k % 5 === 0);
  }
  for (let k = low[1]; k <= high[1]; k++) {
    between([low[0] * step, k * step, 0], [high[0] * step, k * step, 0], k % 5 === 0);
  }
  context.globalAlpha = 1;
}

/** The work zero: a small square with its axes. */
function drawZero(context: CanvasRenderingContext2D, camera: Camera, size: Size, theme: Theme): void {
  const zero = project(camera, size, [0, 0, 0]);
  context.strokeStyle = theme.foreground;
  context.fillStyle = theme.foreground;
  context.lineWidth = 1.5;
  context.strokeRect(zero.x - 3.5, zero.y - 3.5, 7, 7);
  drawAxes(context, camera, zero.x, zero.y, ARROW);
}

/** Which way the axes point, in the lower left corner, where the work zero cannot be seen. */
function drawCorner(context: CanvasRenderingContext2D, camera: Camera, size: Size, theme: Theme): void {
  context.strokeStyle = theme.foreground;
  context.fillStyle = theme.foreground;
  drawAxes(context, camera, 60, size.height - 60, ARROW / 2);
}

/** An arrow along each axis that can be seen, so many pixels long, and the axis' letter. */
function drawAxes(context: CanvasRenderingContext2D, camera: Camera, x: number, y: number, reach: number): void {
  const { right, up } = basisOf(camera);
  for (const axis of [0, 1, 2] as const) {
    const [dx, dy] = [right[axis] * reach, -up[axis] * reach];
    const length = Math.hypot(dx, dy);
    if (length < 4) {
      continue;
    }
    const [ux, uy] = [dx / length, dy / length];
    const [tipX, tipY] = [x + dx, y + dy];
    // Wide and pale, so that it still shows where the path runs along the axis.
    context.lineWidth = 5;
    context.globalAlpha = 0.45;
    line(context, x + ux * 4, y + uy * 4, tipX, tipY);
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
