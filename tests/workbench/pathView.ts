// Reads the path view as drawn: where a point of the part lies on the screen, and what colour is there.
import type { Frame } from 'playwright-core';

/** What the view offers to tests in its window. */
interface ViewGlobals {
  readonly blockwrightTest: {
    project(point: readonly number[]): { readonly x: number; readonly y: number };
    pixel(x: number, y: number): readonly number[];
  };
  readonly document: { querySelector(selector: string): { getContext(kind: string): unknown } | null };
}

/** Whether the canvas is drawn by WebGL 2; a machine without it fails the test, it does not skip it. */
export function drawsByWebGl(frame: Frame): Promise<boolean> {
  return frame.evaluate(() => {
    const { document } = globalThis as unknown as ViewGlobals;
    return document.querySelector('canvas')?.getContext('webgl2') != null;
  });
}

/** Where a point in work coordinates, mm, lies in the view, in CSS pixels. */
export function project(frame: Frame, point: readonly [number, number, number]): Promise<{ x: number; y: number }> {
  return frame.evaluate((given) => (globalThis as unknown as ViewGlobals).blockwrightTest.project(given), point);
}

/**
 * How strongly a line stands out at a place against both sides of it: the largest difference of a colour channel
 * (0 to 255) between the place (3 × 3 pixels) and the places `away` CSS pixels to either side along `across`, the
 * lesser of the two sides.
 */
export function lineStrength(
  frame: Frame,
  at: { readonly x: number; readonly y: number },
  across: { readonly x: number; readonly y: number },
  away = 7,
): Promise<number> {
  return frame.evaluate(
    ({ at, across, away }) => {
      const { pixel } = (globalThis as unknown as ViewGlobals).blockwrightTest;
      const difference = (a: readonly number[], b: readonly number[]): number =>
        Math.max(...[0, 1, 2].map((channel) => Math.abs(a[channel]! - b[channel]!)));
      const near = [-1, 0, 1].flatMap((x) => [-1, 0, 1].map((y) => pixel(at.x + x, at.y + y)));
      const sides = [away, -away].map((step) => pixel(at.x + across.x * step, at.y + across.y * step));
      return Math.min(...sides.map((side) => Math.max(...near.map((colour) => difference(colour, side)))));
    },
    { at, across, away },
  );
}
