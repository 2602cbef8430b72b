// The picture as it is seen, put together from its layers on one canvas, with words below it that say what it is.
import type { Frame } from './frame.ts';
import type { PathScene } from './scene.ts';

/** What is put together. */
export interface Layers {
  /** The canvases from the back to the front, all of one size on the page. */
  readonly canvases: readonly HTMLCanvasElement[];
  /** Draws what is on no canvas between the first and the second, units CSS pixels; none where all of it is. */
  readonly between?: ((context: CanvasRenderingContext2D) => void) | undefined;
  /** The buttons on the findings. */
  readonly marks: readonly HTMLElement[];
  readonly background: string;
  readonly foreground: string;
  /** Lines of text below the picture. */
  readonly words: readonly string[];
}

const LINE = 18;
const EDGE = 10;

/** A canvas with all of it, in the pixels of the screen. */
export function composed({ canvases, between, marks, background, foreground, words }: Layers): HTMLCanvasElement {
  const [behind] = canvases;
  const { width, height } = behind.getBoundingClientRect();
  const ratio = behind.width / width;
  const whole = document.createElement('canvas');
  whole.width = behind.width;
  whole.height = behind.height + Math.round((words.length * LINE + EDGE) * ratio);
  const context = whole.getContext('2d');
  if (!context) {
    throw new Error('no canvas to draw on');
  }
  context.fillStyle = background;
  context.fillRect(0, 0, whole.width, whole.height);
  context.scale(ratio, ratio);
  canvases.forEach((canvas, index) => {
    context.drawImage(canvas, 0, 0, width, height);
    if (index === 0) between?.(context);
  });
  const { left, top } = behind.getBoundingClientRect();
  for (const mark of marks) {
    drawMark(context, mark, left, top);
  }
  context.fillStyle = background;
  context.fillRect(0, height, width, words.length * LINE + EDGE);
  context.fillStyle = foreground;
  context.textBaseline = 'middle';
  const family = getComputedStyle(document.body).fontFamily || 'sans-serif';
  context.font = `12px ${family}`;
  words.forEach((text, line) => {
    context.fillText(text, EDGE, height + EDGE / 2 + (line + 0.5) * LINE, width - 2 * EDGE);
  });
  return whole;
}

/** A finding's button as it stands on the page, with the corners and colours of its weight. */
function drawMark(context: CanvasRenderingContext2D, mark: HTMLElement, left: number, top: number): void {
  const box = mark.getBoundingClientRect();
  const style = getComputedStyle(mark);
  const corners = [
    style.borderTopLeftRadius,
    style.borderTopRightRadius,
    style.borderBottomRightRadius,
    style.borderBottomLeftRadius,
  ].map((radius) => Number.parseFloat(radius) || 0);
  context.beginPath();
  context.roundRect(box.left - left, box.top - top, box.width, box.height, corners);
  context.fillStyle = style.backgroundColor;
  context.fill();
  context.strokeStyle = style.borderTopColor;
  context.lineWidth = 1;
  context.stroke();
  context.fillStyle = style.color;
  context.font = style.font;
  context.textAlign = 'center';
  context.textBaseline = 'middle';
  context.fillText(mark.textContent ?? '', box.left - left + box.width / 2, box.top - top + box.height / 2);
  context.textAlign = 'left';
}

/** The canvas as a PNG. */
export const pngOf = (canvas: HTMLCanvasElement): Promise<Blob> =>
  new Promise((resolve, reject) => {
    canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new Error('no picture'))), 'image/png');
  });

/** The colour at a place of the page: the path, drawn just before, over what lies behind it. */
export function colourAt(
  { canvas, backdrop }: Frame,
  scene: PathScene | undefined,
  x: number,
  y: number,
): [number, number, number] {
  const { left, top, width } = canvas.getBoundingClientRect();
  const ratio = backdrop.width / width;
  const behind = backdrop.getContext('2d')?.getImageData((x - left) * ratio, (y - top) * ratio, 1, 1).data;
  const before = scene?.pixel(x - left, y - top) ?? [0, 0, 0, 0];
  const through = 1 - before[3] / 255;
  const mixed = (channel: number): number => Math.round(before[channel] + (behind?.[channel] ?? 0) * through);
  return [mixed(0), mixed(1), mixed(2)];
}
