// Draws the cutter where its tip stands, at its true diameter.
import type { PathTool } from '../../server/src/core/geometry/pathSummary.ts';
import { type Camera, type Point, project, type Size } from './camera.ts';
import { hullOf, outlineOf, type Ring } from './cutter.ts';
import type { Theme } from './theme.ts';

/** Points of a ring. */
const ROUND = 48;
const NOT_KNOWN = 7;

/** Draws the tool with its tip at a point, work coordinates in mm; a cross where its diameter is not known. */
export function drawCutter(
  context: CanvasRenderingContext2D,
  camera: Camera,
  size: Size,
  theme: Theme,
  tool: PathTool | undefined,
  tip: Point,
): void {
  const rings = tool && outlineOf(tool);
  const at = project(camera, size, tip);
  if (Number.isNaN(at.x)) {
    return;
  }
  context.strokeStyle = theme.foreground;
  context.fillStyle = theme.foreground;
  context.lineWidth = 1.25;
  if (!rings) {
    stroke(context, [
      { x: at.x - NOT_KNOWN, y: at.y - NOT_KNOWN },
      { x: at.x + NOT_KNOWN, y: at.y + NOT_KNOWN },
    ]);
    stroke(context, [
      { x: at.x - NOT_KNOWN, y: at.y + NOT_KNOWN },
      { x: at.x + NOT_KNOWN, y: at.y - NOT_KNOWN },
    ]);
    return;
  }
  const seen = rings.map((ring) => placesOf(ring, tip).map((point) => project(camera, size, point)));
  if (seen.flat().some(({ x }) => Number.isNaN(x))) {
    return;
  }
  const hull = hullOf(seen.flat());
  trace(context, hull);
  context.globalAlpha = 0.14;
  context.fill();
  context.globalAlpha = 0.9;
  context.stroke();
  context.globalAlpha = 0.4;
  // The edge between two surfaces shows as a ring: the upper end of point or corner, and the upper end of all.
  for (const ring of [seen[0], seen[seen.length - 2], seen[seen.length - 1]]) {
    trace(context, ring);
    context.stroke();
  }
  context.globalAlpha = 1;
}

function placesOf({ radius, height }: Ring, tip: Point): Point[] {
  return Array.from({ length: ROUND }, (_, i): Point => {
    const turn = (i / ROUND) * 2 * Math.PI;
    return [tip[0] + radius * Math.cos(turn), tip[1] + radius * Math.sin(turn), tip[2] + height];
  });
}

type Place = { readonly x: number; readonly y: number };

function trace(context: CanvasRenderingContext2D, places: readonly Place[]): void {
  context.beginPath();
  for (const { x, y } of places) {
    context.lineTo(x, y);
  }
  context.closePath();
}

function stroke(context: CanvasRenderingContext2D, [from, to]: readonly [Place, Place]): void {
  context.beginPath();
  context.moveTo(from.x, from.y);
  context.lineTo(to.x, to.y);
  context.stroke();
}
