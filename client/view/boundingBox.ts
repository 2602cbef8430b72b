// The box about the path in space, and how long, wide and high it is.
import { type Camera, cornersOf, project, projectLine, type Size } from './camera.ts';
import { lengthText } from './numbers.ts';
import type { Theme } from './theme.ts';

/** Bits of a corner by axis; see `cornersOf`. */
const AXES = [1, 2, 4] as const;

/** An edge of the box by the numbers of its corners. */
type Edge = readonly [number, number];

const edgesAlong = (axis: number): Edge[] =>
  [0, 1, 2, 3, 4, 5, 6, 7].filter((bits) => (bits & AXES[axis]) === 0).map((bits) => [bits, bits | AXES[axis]]);

/** Draws the twelve edges of a box: least X Y Z, greatest X Y Z, mm. */
export function drawBox(
  context: CanvasRenderingContext2D,
  camera: Camera,
  size: Size,
  theme: Theme,
  bounds: ArrayLike<number>,
): void {
  const corners = cornersOf(bounds);
  context.strokeStyle = theme.foreground;
  context.lineWidth = 1;
  context.globalAlpha = 0.55;
  context.setLineDash([2, 3]);
  context.beginPath();
  for (const [from, to] of [0, 1, 2].flatMap(edgesAlong)) {
    const seen = projectLine(camera, size, corners[from], corners[to]);
    if (seen) {
      context.moveTo(seen[0].x, seen[0].y);
      context.lineTo(seen[1].x, seen[1].y);
    }
  }
  context.stroke();
  context.setLineDash([]);
  context.globalAlpha = 1;
}

/** Room at the right of the picture for the height of the box, pixels. */
export const HEIGHT_ROOM = 48;

/** A size of the box and where it is to be written, CSS pixels. */
export interface BoxSize {
  readonly text: string;
  readonly x: number;
  readonly y: number;
}

/** The sizes of a box, each beside an edge at the outside of the picture of it; a side seen from its end has none. */
export function boxSizes(camera: Camera, size: Size, bounds: ArrayLike<number>, inch: boolean): BoxSize[] {
  const corners = cornersOf(bounds).map((corner) => project(camera, size, corner));
  const middleX = corners.reduce((sum, { x }) => sum + x, 0) / corners.length;
  const middleY = corners.reduce((sum, { y }) => sum + y, 0) / corners.length;
  const sizes: BoxSize[] = [];
  for (const axis of [0, 1, 2]) {
    const edges = edgesAlong(axis).map(([from, to]) => {
      const [a, b] = [corners[from], corners[to]];
      return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2, length: Math.hypot(b.x - a.x, b.y - a.y) };
    });
    // The lowest edge of those along the table, and the one farthest to the right of the upright ones.
    const rank = (edge: { x: number; y: number }): number => (axis === 2 ? edge.x : edge.y);
    const [edge] = edges.filter(({ length }) => length > 24).sort((a, b) => rank(b) - rank(a));
    if (edge) {
      const [dx, dy] = [edge.x - middleX, edge.y - middleY];
      // The height stands far enough beside its edge that marks at the end of the path do not cover it.
      const away = (axis === 2 ? 40 : 26) / Math.max(1, Math.hypot(dx, dy));
      const text = `${'XYZ'[axis]} ${lengthText(bounds[axis + 3] - bounds[axis], inch)}`;
      sizes.push({ text, x: edge.x + dx * away, y: edge.y + dy * away });
    }
  }
  return sizes;
}
