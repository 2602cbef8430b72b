// Mouse, wheel and keys on the picture: pan, enlarge, turn in space, click.
import { type Camera, orbit, pan, type Size, zoom } from './camera.ts';

/** What the controls work on. */
export interface Controlled {
  camera(): Camera;
  size(): Size;
  /** The camera has been moved by hand. */
  moved(camera: Camera): void;
  /** The camera with its target as far away as what is at a place, CSS pixels of the canvas. */
  aimed(camera: Camera, x: number, y: number): Camera;
  /** The pointer is at a place, CSS pixels of the canvas; `undefined` when it has left. */
  pointer(place: { readonly x: number; readonly y: number } | undefined): void;
  /** A key on the picture; true if it was for something else than the camera. */
  keyed(event: KeyboardEvent): boolean;
  /** A click, not a drag. */
  clicked(x: number, y: number): void;
}

/** A pointer that moved less than this between press and release has clicked, pixels. */
const CLICK_REACH = 4;
const DEGREES_PER_PIXEL = 0.4;
const KEY_PIXELS = 40;
const KEY_DEGREES = 10;

/** Listens on the canvas. In space a drag turns, with Shift or the right button it pans; flat it always pans. */
export function control(canvas: HTMLCanvasElement, on: Controlled): void {
  let pressed: { x: number; y: number; button: number; id: number } | undefined;
  let travelled = 0;
  /** The camera looks at what was under the pointer when it was pressed. */
  let isAimed = false;
  canvas.addEventListener('pointerdown', (event) => {
    pressed = { x: event.offsetX, y: event.offsetY, button: event.button, id: event.pointerId };
    travelled = 0;
    canvas.setPointerCapture(event.pointerId);
    isAimed = false;
  });
  canvas.addEventListener('pointermove', (event) => {
    const [x, y] = [event.offsetX, event.offsetY];
    if (pressed?.id === event.pointerId) {
      const [dx, dy] = [x - pressed.x, y - pressed.y];
      travelled += Math.abs(dx) + Math.abs(dy);
      pressed = { ...pressed, x, y };
      if (travelled > CLICK_REACH) {
        if (!isAimed) {
          isAimed = true;
          on.moved(on.aimed(on.camera(), pressed.x - dx, pressed.y - dy));
        }
        const turns = on.camera().view === 'space' && pressed.button === 0 && !event.shiftKey;
        on.moved(
          turns ? orbit(on.camera(), -dx * DEGREES_PER_PIXEL, dy * DEGREES_PER_PIXEL) : pan(on.camera(), dx, dy),
        );
      }
    }
    on.pointer({ x, y });
  });
  canvas.addEventListener('pointerup', (event) => {
    if (pressed?.id === event.pointerId && pressed.button === 0 && travelled <= CLICK_REACH) {
      on.clicked(event.offsetX, event.offsetY);
    }
    pressed = undefined;
  });
  canvas.addEventListener('pointercancel', () => {
    pressed = undefined;
  });
  canvas.addEventListener('pointerleave', () => on.pointer(undefined));
  canvas.addEventListener('contextmenu', (event) => event.preventDefault());
  canvas.addEventListener(
    'wheel',
    (event) => {
      event.preventDefault();
      const pixels = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? event.deltaY * 16 : event.deltaY;
      const factor = Math.exp(-Math.max(-200, Math.min(200, pixels)) * 0.002);
      const camera = on.aimed(on.camera(), event.offsetX, event.offsetY);
      on.moved(zoom(camera, on.size(), factor, event.offsetX, event.offsetY));
    },
    { passive: false },
  );
  canvas.addEventListener('keydown', (event) => {
    if (on.keyed(event)) {
      event.preventDefault();
      return;
    }
    const camera = moveByKey(event, on);
    if (camera) {
      event.preventDefault();
      on.moved(camera);
    }
  });
}

/** Arrow keys pan, with Shift they turn the view in space; + and − enlarge and reduce. */
function moveByKey(event: KeyboardEvent, on: Controlled): Camera | undefined {
  const arrows: Readonly<Record<string, readonly [number, number]>> = {
    ArrowLeft: [1, 0],
    ArrowRight: [-1, 0],
    ArrowUp: [0, 1],
    ArrowDown: [0, -1],
  };
  const camera = on.camera();
  const { width, height } = on.size();
  const arrow = arrows[event.key];
  if (event.ctrlKey || event.altKey || event.metaKey) {
    return undefined;
  }
  if (arrow) {
    return event.shiftKey && camera.view === 'space'
      ? orbit(camera, arrow[0] * KEY_DEGREES, -arrow[1] * KEY_DEGREES)
      : pan(camera, arrow[0] * KEY_PIXELS, arrow[1] * KEY_PIXELS);
  }
  if (event.key === '+' || event.key === '=') {
    return zoom(camera, on.size(), 1.25, width / 2, height / 2);
  }
  return event.key === '-' ? zoom(camera, on.size(), 0.8, width / 2, height / 2) : undefined;
}
