/**
 * Which letters and codes a chunk of lines has, so that a search passes by what cannot hold it. Kept with the chunk; what a
 * remark names counts as well, so a bit that is not set is certain, one that is set is not.
 */
import type { LineChunk } from '../text/lineChunk.ts';

const HASH = 35;
/** Place of `#` among the letters. */
const HASH_BIT = 26;
const G = 6;
const M = 12;
const CODES = 128;
const WORDS = CODES / 32;

/** Letters and codes of a chunk as bits. */
export class ChunkDigest {
  private letters = 0;
  private readonly codes = new Uint32Array(WORDS * 2);

  constructor({ source, start, end }: LineChunk) {
    for (let p = start; p < end; p++) {
      const c = source.charCodeAt(p);
      if (c < HASH || (c > HASH && c < 65)) continue;
      const letter = c === HASH ? HASH_BIT : (c | 32) - 97;
      if (letter < 0 || (letter >= HASH_BIT && c !== HASH)) continue;
      this.letters |= 1 << letter;
      if (letter === G || letter === M) this.addCode(source, p + 1, end, letter === G ? 0 : WORDS);
    }
  }

  /** The whole part of the number behind G or M; all codes where it is computed. */
  private addCode(source: string, from: number, end: number, base: number): void {
    let number = -1;
    for (let p = from; p < end; p++) {
      const c = source.charCodeAt(p);
      if (c === 32 || c === 9) continue;
      if (c < 48 || c > 57) {
        if (number < 0 && (c === HASH || c === 91)) this.codes.fill(0xffffffff, base, base + WORDS);
        break;
      }
      number = Math.max(0, number) * 10 + c - 48;
    }
    if (number >= 0) this.codes[base + ((number % CODES) >> 5)] |= 1 << (number & 31);
  }

  /** True if a letter (place in the alphabet) may be there. */
  hasLetter(letter: number): boolean {
    return (this.letters & (1 << letter)) !== 0;
  }

  /** True if a variable may be named. */
  get hasVariables(): boolean {
    return this.hasLetter(HASH_BIT);
  }

  /** True if a G code with this whole part may be there. */
  hasG(code: number): boolean {
    return (this.codes[(code % CODES) >> 5] & (1 << (code & 31))) !== 0;
  }

  /** True if an M code may be there. */
  hasM(code: number): boolean {
    return (this.codes[WORDS + ((code % CODES) >> 5)] & (1 << (code & 31))) !== 0;
  }

  /** True if a program may be called, by M98, G65 or G66. */
  get hasCalls(): boolean {
    return this.hasM(98) || this.hasG(65) || this.hasG(66);
  }
}

const digests = new WeakMap<LineChunk, ChunkDigest>();

/** The digest of a chunk, made once. */
export const digestOf = (text: LineChunk): ChunkDigest => {
  const known = digests.get(text);
  if (known !== undefined) return known;
  const digest = new ChunkDigest(text);
  digests.set(text, digest);
  return digest;
};
