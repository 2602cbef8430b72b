// What lies over the path: rulers, the sizes of the box, and at the pointer the point it is drawn to with its coordinates.
import { AXIS_NAMES, PLANE_AXES } from './backdrop.ts';
import { boxSizes } from './boundingBox.ts';
import { type Camera, pointAt, project, type Size } from './camera.ts';
import { lengthText } from './numbers.ts';
import { drawRulers, type Ruled } from './rulers.ts';
import type { Snapped } from './snap.ts';
import type { Theme } from './theme.ts';

/** What is drawn over the path. */
export interface Overlaid extends Ruled {
  /** The box whose sizes are written, if any. */
  readonly box: ArrayLike<number> | undefined;
  /** The point that the pointer is drawn to. */
  readonly snapped: Snapped | undefined;
}

/** The canvas over the path. */
export class Overlay {
  readonly #canvas: HTMLCanvasElement;

  constructor(canvas: HTMLCanvasElement) {
    this.#canvas = canvas;
  }

  /** Draws all anew; `more` draws what somebody else has to draw there, below the rulers. */
  draw(overlaid: Overlaid, more?: (context: CanvasRenderingContext2D) => void): void {
    const context = this.#cleared(overlaid.size);
    if (!context) {
      return;
    }
    const { camera, size, theme, inch, box, snapped, pointer } = overlaid;
    if (box && camera.view === 'space') {
      for (const { text, x, y } of boxSizes(camera, size, box, inch)) {
        // A size whose edge is out of the picture would stand at another place.
        if (x > 0 && y > overlaid.top && x < size.width && y < size.height) {
          drawLabel(context, theme, size, text, x, y);
        }
      }
    }
    more?.(context);
    if (snapped) {
      const { x, y } = project(camera, size, snapped.at);
      drawSign(context, theme, snapped.kind, x, y);
    }
    drawRulers(context, overlaid);
    const text = pointer && pointerLabel(camera, size, pointer, snapped, inch);
    if (text) {
      const width = context.measureText(text).width / 2;
      drawLabel(context, theme, size, text, pointer.x + 16 + width, pointer.y + 20);
    }
  }

  #cleared(size: Size): CanvasRenderingContext2D | null {
    const ratio = window.devicePixelRatio || 1;
    const [width, height] = [Math.round(size.width * ratio), Math.round(size.height * ratio)];
    if (this.#canvas.width !== width || this.#canvas.height !== height) {
      this.#canvas.width = width;
      this.#canvas.height = height;
    }
    const context = this.#canvas.getContext('2d');
    context?.setTransform(width / size.width, 0, 0, height / size.height, 0, 0);
    context?.clearRect(0, 0, size.width, size.height);
    if (context) {
      context.font = `11px ${getComputedStyle(document.body).fontFamily || 'sans-serif'}`;
    }
    return context;
  }
}

const NAMES = { end: 'end', centre: 'centre', zero: 'work zero' } as const;

/** The coordinates at the pointer: of the point it is drawn to, in a flat view else of the place itself. */
export function pointerLabel(
  camera: Camera,
  size: Size,
  pointer: { readonly x: number; readonly y: number },
  snapped: Snapped | undefined,
  inch: boolean,
): string {
  const axes = camera.view === 'space' ? ([0, 1, 2] as const) : PLANE_AXES[camera.view];
  if (!snapped && camera.view === 'space') {
    return '';
  }
  const at = snapped?.at ?? pointAt(camera, size, pointer.x, pointer.y);
  const parts = axes.map((axis) => `${AXIS_NAMES[axis]} ${lengthText(at[axis], inch)}`);
  return [...(snapped ? [NAMES[snapped.kind]] : []), ...parts].join('  ');
}

/** A text in the middle of a place, on the colour of the background, kept inside the picture. */
export function drawLabel(
  context: CanvasRenderingContext2D,
  theme: Theme,
  size: Size,
  text: string,
  x: number,
  y: number,
): void {
  const width = context.measureText(text).width + 8;
  const left = Math.min(size.width - width - 2, Math.max(2, x - width / 2));
  const top = Math.min(size.height - 18, Math.max(2, y - 8));
  if (!Number.isFinite(left + top)) {
    return;
  }
  context.globalAlpha = 0.85;
  context.fillStyle = theme.background;
  context.fillRect(left, top, width, 16);
  context.globalAlpha = 1;
  context.fillStyle = theme.foreground;
  context.textAlign = 'left';
  context.textBaseline = 'middle';
  context.fillText(text, left + 4, top + 8.5);
}

/** The sign of a point: a square for an end, a square with a cross for the work zero, a ring with a cross for a centre, a triangle for a place on the path. */
export function drawSign(
  context: CanvasRenderingContext2D,
  theme: Theme,
  kind: Snapped['kind'] | 'path' | 'free',
  x: number,
  y: number,
): void {
  context.beginPath();
  if (kind === 'end' || kind === 'zero') {
    context.rect(x - 5, y - 5, 10, 10);
  } else if (kind === 'centre') {
    context.arc(x, y, 6, 0, 2 * Math.PI);
  } else if (kind === 'path') {
    context.moveTo(x, y - 6);
    context.lineTo(x + 6, y + 5);
    context.lineTo(x - 6, y + 5);
    context.closePath();
  }
  if (kind === 'centre' || kind === 'free' || kind === 'zero') {
    context.moveTo(x - 9, y);
    context.lineTo(x + 9, y);
    context.moveTo(x, y - 9);
    context.lineTo(x, y + 9);
  }
  // A rim in the colour of the background, so that the sign shows on every line.
  context.lineWidth = 4;
  context.strokeStyle = theme.background;
  context.stroke();
  context.lineWidth = 1.75;
  context.strokeStyle = theme.foreground;
  context.stroke();
}
