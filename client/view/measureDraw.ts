// Measured points and moves, drawn over the path.
import type { PathMove } from '../../server/src/core/geometry/pathRequestMove.ts';
import { type Camera, type Point, project, projectLine, type Size } from './camera.ts';
import { depthAxis, type MeasuredPoint } from './measure.ts';
import { nearestOf, pointsAlong } from './measureCurves.ts';
import { lengthText } from './numbers.ts';
import { drawLabel, drawSign } from './overlay.ts';
import type { Theme } from './theme.ts';

/** What is drawn. */
export interface Measured {
  readonly camera: Camera;
  readonly size: Size;
  readonly theme: Theme;
  readonly inch: boolean;
  /** Up to two points; the second may still go with the pointer. */
  readonly points: readonly MeasuredPoint[];
  /** Up to two moves. */
  readonly moves: readonly PathMove[];
  /** The cross-hair that is moved by keys. */
  readonly cross: { readonly x: number; readonly y: number } | undefined;
}

/** Draws points with the line between them, or a move's ends and centre, or the shortest line between two moves. */
export function drawMeasured(context: CanvasRenderingContext2D, measured: Measured): void {
  const { camera, size, theme, points, moves, cross } = measured;
  if (cross) {
    context.globalAlpha = 0.6;
    stroke(
      context,
      theme,
      [
        { x: cross.x, y: 0 },
        { x: cross.x, y: size.height },
      ],
      1,
    );
    stroke(
      context,
      theme,
      [
        { x: 0, y: cross.y },
        { x: size.width, y: cross.y },
      ],
      1,
    );
    context.globalAlpha = 1;
  }
  const [first, second] = points;
  if (first && second) {
    drawBetween(context, measured, first.at, second.at);
  }
  for (const { at, kind } of points) {
    const { x, y } = project(camera, size, at);
    drawSign(context, theme, kind, x, y);
  }
  for (const move of moves) {
    drawAlong(context, measured, pointsAlong(move));
  }
  const [one, other] = moves;
  if (one && other) {
    const nearest = nearestOf(one, other, depthAxis(camera.view));
    if (nearest) {
      drawBetween(context, measured, nearest.first, nearest.second);
    }
  } else if (one) {
    drawMove(context, measured, one);
  }
}

function drawMove(context: CanvasRenderingContext2D, { camera, size, theme }: Measured, move: PathMove): void {
  for (const [kind, place] of [
    ['end', move.from],
    ['end', move.to],
    ['centre', move.centre],
  ] as const) {
    if (place?.every((value) => value !== null)) {
      const { x, y } = project(camera, size, place as Point);
      drawSign(context, theme, kind, x, y);
    }
  }
}

/** The move itself. */
function drawAlong(context: CanvasRenderingContext2D, { camera, size, theme }: Measured, points: Point[]): void {
  context.beginPath();
  for (let i = 1; i < points.length; i++) {
    const seen = projectLine(camera, size, points[i - 1], points[i]);
    if (seen) {
      context.moveTo(seen[0].x, seen[0].y);
      context.lineTo(seen[1].x, seen[1].y);
    }
  }
  context.lineCap = 'round';
  context.lineWidth = 3;
  context.strokeStyle = theme.foreground;
  context.stroke();
  context.lineCap = 'butt';
}

/** A line with its length, as it is measured in this view. */
function drawBetween(context: CanvasRenderingContext2D, measured: Measured, first: Point, second: Point): void {
  const { camera, size, theme, inch } = measured;
  const seen = projectLine(camera, size, first, second);
  if (!seen) {
    return;
  }
  stroke(context, theme, seen, 2);
  const hidden = depthAxis(camera.view);
  const length = Math.hypot(...first.map((value, axis) => (axis === hidden ? 0 : second[axis] - value)));
  const [x, y] = [(seen[0].x + seen[1].x) / 2, (seen[0].y + seen[1].y) / 2];
  drawLabel(context, theme, size, lengthText(length, inch), x, y - 12);
}

/** A line with a rim in the colour of the background, so that it shows on every other one. */
function stroke(
  context: CanvasRenderingContext2D,
  theme: Theme,
  [from, to]: readonly [{ x: number; y: number }, { x: number; y: number }],
  width: number,
): void {
  context.beginPath();
  context.moveTo(from.x, from.y);
  context.lineTo(to.x, to.y);
  context.lineWidth = width + 2;
  context.strokeStyle = theme.background;
  context.stroke();
  context.lineWidth = width;
  context.strokeStyle = theme.foreground;
  context.stroke();
}
