/** What is looked for across all programs: O numbers and tools, read from the text without executing it. */
import { letterIndex } from '../syntax/block.ts';
import { programItem } from './callHierarchy.ts';
import { type ProgramText, type TextSpan, visitBlocks } from './referencesText.ts';
import { hasM } from './referencesTokens.ts';

/** A program or a tool with a name. */
export interface TextSymbol extends TextSpan {
  readonly kind: 'program' | 'tool';
  readonly name: string;
}

const T = letterIndex('T');

/** The programs and tool changes of a text, in the order of lines; a tool once a program. */
export function* symbolsOf(text: ProgramText): Generator<undefined, TextSymbol[]> {
  const found: TextSymbol[] = text.layout.units
    .filter(({ number }) => number >= 0)
    .map((unit) => {
      const { head, number, remark } = programItem(text, unit);
      return { kind: 'program', name: `O${number}${remark === '' ? '' : ` ${remark}`}`, ...head };
    });
  found.push(...(yield* toolsOf(text)));
  return found.sort((a, b) => a.line - b.line || a.column - b.column);
}

function* toolsOf(text: ProgramText): Generator<undefined, TextSymbol[]> {
  const found = new Map<string, TextSymbol>();
  const sameBlock = text.profile.toolChange === 'same-block';
  let called = Number.NaN;
  yield* visitBlocks(
    text,
    (digest) => digest.hasLetter(T),
    /[TM]/i,
    (block, line) => {
      const own = block.value(T);
      const isChange = hasM(block, 6);
      const number = sameBlock && !Number.isNaN(own) ? own : called;
      if (!Number.isNaN(own)) called = own;
      if (!isChange || Number.isNaN(number)) return false;
      const [from, to] = block.remarks;
      const remark = from === undefined ? '' : block.source.slice(from, to).trim();
      const key = `${text.layout.unitOf(line).firstLine} ${number} ${remark}`;
      if (found.has(key)) return false;
      const word = block.has(T) ? block.slot[T] : 0;
      found.set(key, {
        kind: 'tool',
        name: `T${number}${remark === '' ? '' : ` ${remark}`}`,
        line,
        column: block.starts[word] - block.start,
        endColumn: block.ends[word] - block.start,
      });
      return false;
    },
  );
  return [...found.values()];
}

/** True if all letters of what was typed are in a name in this order, whatever their case. */
export const fitsQuery = (name: string, query: string): boolean => {
  const letters = name.toLowerCase();
  let at = 0;
  for (const letter of query.toLowerCase().replace(/\s+/g, '')) {
    at = letters.indexOf(letter, at) + 1;
    if (at === 0) return false;
  }
  return true;
};
