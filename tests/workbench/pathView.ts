// Reads the path view as drawn: where a point of the part lies on the screen, and whether a line is there.
import type { Frame } from 'playwright-core';
import { readPng } from './picture.ts';

/** A place on the page, CSS pixels from its upper left corner. */
export interface Place {
  readonly x: number;
  readonly y: number;
}

/** Places that a line should run through, each with the direction across the line (of length 1). */
export interface Crossing {
  readonly at: Place;
  readonly across: Place;
}

/** A point of the part, work coordinates, mm. */
export type PartPoint = readonly [number, number, number];

type Colour = readonly number[];

/** What the view offers to tests in its window. */
interface ViewGlobals {
  readonly blockwrightTest: {
    project(point: readonly number[]): Place;
    pixel(x: number, y: number): Colour;
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

/** Where a point lies on the whole page. */
export async function project(frame: Frame, point: PartPoint): Promise<Place> {
  const corner = await cornerOf(frame);
  const { x, y } = await frame.evaluate(
    (given) => (globalThis as unknown as ViewGlobals).blockwrightTest.project(given),
    point,
  );
  return { x: corner.x + x, y: corner.y + y };
}

/** The crossing of a line at a point; `beside` is another point, off the line on its one side. */
export async function crossingAt(frame: Frame, point: PartPoint, beside: PartPoint): Promise<Crossing> {
  const at = await project(frame, point);
  const off = await project(frame, beside);
  const length = Math.hypot(off.x - at.x, off.y - at.y);
  return { at, across: { x: (off.x - at.x) / length, y: (off.y - at.y) / length } };
}

/** How strongly a line stands out at each crossing, by the view's own account of its pixels. */
export async function drawnStrengths(frame: Frame, crossings: readonly Crossing[]): Promise<number[]> {
  const corner = await cornerOf(frame);
  const places = crossings.flatMap(placesOf).map(({ x, y }) => ({ x: x - corner.x, y: y - corner.y }));
  const colours = await frame.evaluate((asked) => {
    const { pixel } = (globalThis as unknown as ViewGlobals).blockwrightTest;
    return asked.map(({ x, y }) => pixel(x, y));
  }, places);
  return strengths(crossings.length, colours);
}

/** How strongly a line stands out at each crossing, on a screenshot of the page. */
export async function seenStrengths(frame: Frame, crossings: readonly Crossing[]): Promise<number[]> {
  const picture = readPng(await frame.page().screenshot({ scale: 'css' }));
  const colours = crossings.flatMap(placesOf).map(({ x, y }) => picture.colour(x, y));
  return strengths(crossings.length, colours);
}

async function cornerOf(frame: Frame): Promise<Place> {
  const box = await (await frame.frameElement()).boundingBox();
  if (!box) {
    throw new Error('the path view is not on the screen');
  }
  return box;
}

const near = [-1, 0, 1].flatMap((x) => [-1, 0, 1].map((y) => ({ x, y })));
/** So many CSS pixels to either side the line must be gone. */
const away = 7;

/** The nine pixels about the crossing, then one to either side of the line. */
function placesOf({ at, across }: Crossing): Place[] {
  return [
    ...near.map(({ x, y }) => ({ x: at.x + x, y: at.y + y })),
    ...[away, -away].map((step) => ({ x: at.x + across.x * step, y: at.y + across.y * step })),
  ];
}

/** The largest difference of a channel (0 to 255) between the crossing and either side, the lesser of the two sides. */
function strengths(count: number, colours: readonly Colour[]): number[] {
  const perCrossing = near.length + 2;
  return Array.from({ length: count }, (_, index) => {
    const own = colours.slice(index * perCrossing, (index + 1) * perCrossing);
    const [line, sides] = [own.slice(0, near.length), own.slice(near.length)];
    return Math.min(...sides.map((side) => Math.max(...line.map((colour) => difference(colour, side)))));
  });
}

function difference(a: Colour, b: Colour): number {
  return Math.max(...[0, 1, 2].map((channel) => Math.abs(a[channel]! - b[channel]!)));
}
