// A screenshot's pixels: what a person sees, whatever the page believes to have drawn.
import { inflateSync } from 'node:zlib';

/** A decoded picture; colours are red, green, blue of 0 to 255. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  /** The colour at a place, counted from the upper left corner. Throws outside the picture. */
  colour(x: number, y: number): readonly [number, number, number];
}

/** Reads a PNG of 8 bits a channel, RGB or RGBA, not interlaced: the kind that browsers write (ISO/IEC 15948). */
export function readPng(file: Buffer): Picture {
  const width = file.readUInt32BE(16);
  const height = file.readUInt32BE(20);
  const [depth, kind, , , interlaced] = file.subarray(24, 29);
  if (depth !== 8 || (kind !== 2 && kind !== 6) || interlaced !== 0) {
    throw new Error(`a PNG of another kind: depth ${depth}, colour type ${kind}`);
  }
  const channels = kind === 2 ? 3 : 4;
  const stride = width * channels;
  const raw = inflateSync(imageData(file));
  const pixels = new Uint8Array(stride * height);
  for (let row = 0; row < height; row++) {
    unfilter(raw, pixels, row, stride, channels);
  }
  const colour = (x: number, y: number): readonly [number, number, number] => {
    const [column, row] = [Math.floor(x), Math.floor(y)];
    if (column < 0 || row < 0 || column >= width || row >= height) {
      throw new Error(`${x}, ${y} is outside the picture`);
    }
    const at = row * stride + column * channels;
    return [pixels[at]!, pixels[at + 1]!, pixels[at + 2]!];
  };
  return { width, height, colour };
}

function imageData(file: Buffer): Buffer {
  const parts: Buffer[] = [];
  for (let at = 8; at < file.length; ) {
    const length = file.readUInt32BE(at);
    if (file.toString('latin1', at + 4, at + 8) === 'IDAT') {
      parts.push(file.subarray(at + 8, at + 8 + length));
    }
    at += length + 12;
  }
  return Buffer.concat(parts);
}

/** Undoes one row's filter: 0 none, 1 left, 2 up, 3 mean of both, 4 the nearest of left, up and their corner. */
function unfilter(raw: Uint8Array, pixels: Uint8Array, row: number, stride: number, channels: number): void {
  const filter = raw[row * (stride + 1)];
  const from = row * (stride + 1) + 1;
  const to = row * stride;
  for (let i = 0; i < stride; i++) {
    const left = i >= channels ? pixels[to + i - channels]! : 0;
    const up = row > 0 ? pixels[to + i - stride]! : 0;
    const corner = row > 0 && i >= channels ? pixels[to + i - stride - channels]! : 0;
    const guess = [0, left, up, (left + up) >> 1, nearest(left, up, corner)][filter!]!;
    pixels[to + i] = raw[from + i]! + guess;
  }
}

function nearest(left: number, up: number, corner: number): number {
  const [byLeft, byUp, byCorner] = [Math.abs(up - corner), Math.abs(left - corner), Math.abs(left + up - 2 * corner)];
  if (byLeft <= byUp && byLeft <= byCorner) {
    return left;
  }
  return byUp <= byCorner ? up : corner;
}
