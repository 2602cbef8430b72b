// What the colours of the lines tell: the range of a number over the path, and the colour of each row of a piece.
import {
  type PackedPath,
  PathStyle,
  ROW_WIDTH,
  RowField,
  STYLE_MASK,
} from '../../server/src/core/geometry/packedLayout.ts';
import { channelsOf, rampColour } from './colours.ts';
import type { ShownPiece } from './picture.ts';
import type { ColouredBy } from './shown.ts';
import type { Theme } from './theme.ts';

/** How the lines are coloured. Depth in mm, feed in mm/min, speed in rev/min, time in s. */
export type Scale =
  | { readonly by: 'kind' }
  /** Tools in the order of the program; −1 not known. */
  | { readonly by: 'tool'; readonly tools: readonly number[] }
  | Amounts;

/** Colours for amounts; `least` above `greatest` where there are none. */
export interface Amounts {
  readonly by: 'feed' | 'speed' | 'depth' | 'time';
  readonly least: number;
  readonly greatest: number;
  /** The amounts themselves from the least to the greatest, where they are few. */
  readonly values?: readonly number[];
}

/** More amounts than this are shown as a scale instead of one by one. */
const FEW = 6;
const ROW_TEXTURE_WIDTH = 256;

/** Rows that something is cut with; looked up once for each piece. */
const cutRows = new WeakMap<PackedPath, Uint8Array>();

function rowsAtFeed(path: PackedPath): Uint8Array {
  const known = cutRows.get(path);
  if (known) {
    return known;
  }
  const { codes, rowOf, rows } = path;
  const used = new Uint8Array(rows.length / ROW_WIDTH);
  for (let vertex = 1; vertex < codes.length; vertex++) {
    const style = codes[vertex] & STYLE_MASK;
    if (style !== PathStyle.none && style !== PathStyle.rapid) {
      used[rowOf[vertex]] = 1;
    }
  }
  cutRows.set(path, used);
  return used;
}

/** The numbers of one field in the rows that something is cut with, each once. */
function valuesOf(pieces: readonly ShownPiece[], field: number): number[] {
  const values = new Set<number>();
  for (const { path } of pieces) {
    rowsAtFeed(path).forEach((isUsed, row) => {
      if (isUsed) {
        values.add(path.rows[row * ROW_WIDTH + field]);
      }
    });
  }
  return [...values];
}

/** The scale for what is shown. `cut` are the bounds of what is cut at feed, `seconds` the time of the whole run. */
export function scaleOf(by: ColouredBy, pieces: readonly ShownPiece[], cut: ArrayLike<number>, seconds: number): Scale {
  if (by === 'kind') {
    return { by };
  }
  if (by === 'tool') {
    return { by, tools: valuesOf(pieces, RowField.tool) };
  }
  if (by === 'depth') {
    return { by, least: cut[2], greatest: cut[5] };
  }
  if (by === 'time') {
    return { by, least: 0, greatest: seconds };
  }
  const values = valuesOf(pieces, by === 'feed' ? RowField.feed : RowField.speed)
    .filter((value) => !Number.isNaN(value))
    .sort((a, b) => a - b);
  const [least, greatest] = [values[0] ?? Number.POSITIVE_INFINITY, values.at(-1) ?? Number.NEGATIVE_INFINITY];
  return { by, least, greatest, ...(values.length <= FEW && { values }) };
}

/** Where an amount lies between the least (0) and the greatest (1); a single amount is the greatest. */
export const partOf = ({ least, greatest }: Amounts, amount: number): number =>
  greatest > least ? (amount - least) / (greatest - least) : 1;

/** The colour of a tool; `undefined` where it is not known. More tools than colours: the colours come again. */
export const toolColour = (tools: readonly number[], tool: number, theme: Theme): string | undefined =>
  tool < 0 ? undefined : theme.tools[tools.filter((one) => one >= 0).indexOf(tool) % theme.tools.length];

/**
 * The colours of a piece's rows as a table `ROW_TEXTURE_WIDTH` wide, red green blue alpha; alpha 0 where the number is not
 * known.
 */
export function rowColours(path: PackedPath, scale: Scale, theme: Theme): { data: Uint8Array; width: number } {
  const count = path.rows.length / ROW_WIDTH;
  const width = ROW_TEXTURE_WIDTH;
  const data = new Uint8Array(Math.max(1, Math.ceil(count / width)) * width * 4);
  for (let row = 0; row < count; row++) {
    const colour = rowColour(path.rows, row * ROW_WIDTH, scale, theme);
    if (colour) {
      data.set([...channelsOf(colour), 255], row * 4);
    }
  }
  return { data, width };
}

/** The colour of the row at a place in the rows; `undefined` where its number is not known or rows do not tell colours. */
export function rowColour(rows: Float32Array, at: number, scale: Scale, theme: Theme): string | undefined {
  if (scale.by === 'tool') {
    return toolColour(scale.tools, rows[at + RowField.tool], theme);
  }
  if (scale.by !== 'feed' && scale.by !== 'speed') {
    return undefined;
  }
  const amount = rows[at + (scale.by === 'feed' ? RowField.feed : RowField.speed)];
  return Number.isNaN(amount) ? undefined : rampColour(theme.ramp, partOf(scale, amount));
}
