// Colours as bytes, and the scale for amounts.
import { interpolateViridis } from 'd3-scale-chromatic';

/** Red, green, blue, each 0 to 255. */
export type Channels = readonly [number, number, number];

/** Colours in the scale's table. */
export const RAMP_STEPS = 256;

/** Reads `#rgb`, `#rrggbb` (a transparency behind it is left out) or `rgb(r, g, b)`; black where it is something else. */
export function channelsOf(text: string): Channels {
  const hex = /^#([0-9a-f]{3,8})$/i.exec(text)?.[1];
  if (hex) {
    const [wide, width] = hex.length < 6 ? [17, 1] : [1, 2];
    const part = (index: number): number => Number.parseInt(hex.slice(index * width, (index + 1) * width), 16) * wide;
    return [part(0), part(1), part(2)];
  }
  const [red, green, blue] = (text.match(/\d+(\.\d+)?/g) ?? []).map(Number);
  return /^rgba?\(/.test(text) && blue !== undefined ? [red, green, blue] : [0, 0, 0];
}

/** The colour of an amount, 0 least to 1 greatest, on the part of the viridis scale that the theme can show. */
export function rampColour([from, to]: readonly [number, number], part: number): string {
  return interpolateViridis(from + Math.min(1, Math.max(0, part)) * (to - from));
}

/** The scale as a table of `RAMP_STEPS` colours, red green blue alpha. */
export function rampTable(range: readonly [number, number]): Uint8Array {
  const table = new Uint8Array(RAMP_STEPS * 4);
  for (let step = 0; step < RAMP_STEPS; step++) {
    table.set([...channelsOf(rampColour(range, step / (RAMP_STEPS - 1))), 255], step * 4);
  }
  return table;
}
