/** Blocks that a program may stop at, looked up in the text: no move tells of them. */
import type { LineChunk } from '../text/lineChunk.ts';

/** `stop` is M0, `optional` M1, `message` a value given to #3006 (controls whose own variables are of the macro kind). */
export type StopKind = 'stop' | 'optional' | 'message';

/** A block with a stop; line counted from 0. */
export interface StopLine {
  readonly line: number;
  readonly kind: StopKind;
  /** The block begins with `/`: with block delete on the control leaves it out. */
  readonly canBeLeftOut: boolean;
}

/** One of these is in every text with stops. Looking for them is far quicker than reading. */
const SIGNS = ['M0', 'M1', 'm0', 'm1', 'M ', 'm ', 'M\t', 'm\t', '3006'];
const REMARKS = /\([^)]*\)?|;.*/g;
const LEFT_OUT = /^[ \t]*\/(?!\/)/;
const CODE = /(?<![A-Z#<])M[ \t]*0*([01])(?![ \t]*[\d.])/i;
const MESSAGE = /#[ \t]*3006[ \t]*=/;

/** The blocks with M0, M00, M1, M01 or #3006= in some lines of a program; lines counted from the text's first. */
function stopLinesIn(text: string): StopLine[] {
  if (!SIGNS.some((sign) => text.includes(sign))) return [];
  const found: StopLine[] = [];
  text.split(/\r\n|\n|\r/).forEach((block, line) => {
    const kind = kindOf(block.replace(REMARKS, ' '));
    if (kind !== undefined) found.push({ line, kind, canBeLeftOut: LEFT_OUT.test(block) });
  });
  return found;
}

function kindOf(words: string): StopKind | undefined {
  const code = CODE.exec(words);
  if (code) return code[1] === '0' ? 'stop' : 'optional';
  return MESSAGE.test(words) ? 'message' : undefined;
}

const known = new WeakMap<object, readonly StopLine[]>();

/** The same of a chunk of lines, which is another object after an edit; looked for once. */
export function stopLinesOf(chunk: Pick<LineChunk, 'text'>): readonly StopLine[] {
  let stops = known.get(chunk);
  if (stops === undefined) {
    stops = stopLinesIn(chunk.text());
    known.set(chunk, stops);
  }
  return stops;
}
