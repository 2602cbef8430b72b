/**
 * Whether two lines say the same: to the reader, word for word in the same order (then nothing that executes them can tell them
 * apart), or with the same words in another order or spelling (then the run decides).
 */
import { type Block, WordFlag } from '../syntax/block.ts';
import type { ReadLine } from './formatPieces.ts';

/** What of a line is neither a plain word nor a remark, without blanks and in capitals: numbers, flow, expressions. */
const restOf = ({ text, block }: ReadLine): string => {
  const left = text.split('');
  const blank = (from: number, to: number): void => void left.fill(' ', from, to);
  for (let i = 0; i < block.remarks.length; i += 2) blank(block.remarks[i], block.remarks[i + 1]);
  for (let word = 0; word < block.wordCount; word++) {
    if ((block.flags[word] & WordFlag.computed) === 0) blank(block.starts[word], block.ends[word]);
  }
  return left
    .join('')
    .replace(/[ \t]+/g, '')
    .toUpperCase();
};

const remarksOf = ({ text, block: { remarks } }: ReadLine): string => {
  let all = '';
  for (let i = 0; i < remarks.length; i += 2) all += `${text.slice(remarks[i], remarks[i + 1])}\n`;
  return all;
};

const isSame = (a: number, b: number): boolean => Object.is(a + 0, b + 0);

const isSameHead = (a: Block, b: Block): boolean =>
  a.wordCount === b.wordCount &&
  a.kind === b.kind &&
  a.deleteLevel === b.deleteLevel &&
  a.sequenceNumber === b.sequenceNumber &&
  a.programNumber === b.programNumber &&
  a.assigns === b.assigns &&
  a.faults.length === 0 &&
  b.faults.length === 0;

/** True where the reader makes the same of both lines: they are executed alike whatever stands before. */
export const readAlike = (a: ReadLine, b: ReadLine): boolean => {
  const [one, other] = [a.block, b.block];
  if (!isSameHead(one, other)) return false;
  for (let i = 0; i < one.wordCount; i++) {
    if (one.letters[i] !== other.letters[i] || !isSame(one.values[i], other.values[i])) return false;
    if (one.decimals[i] !== other.decimals[i] || one.flags[i] !== other.flags[i]) return false;
  }
  return restOf(a) === restOf(b) && remarksOf(a) === remarksOf(b);
};

/** True where both lines have the same words with the same values, in any order, and everything else alike. */
export const haveSameWords = (a: ReadLine, b: ReadLine): boolean => {
  if (!isSameHead(a.block, b.block) || remarksOf(a) !== remarksOf(b)) return false;
  const words = ({ block }: ReadLine): string[] =>
    Array.from({ length: block.wordCount }, (_, i) => {
      const isComputed = (block.flags[i] & WordFlag.computed) !== 0;
      const value = isComputed ? block.wordText(i).replace(/\s+/g, '').toUpperCase() : block.values[i] + 0;
      return `${block.letters[i]} ${value}`;
    }).sort();
  return words(a).join() === words(b).join() && sortedRest(a) === sortedRest(b);
};

/** The rest without the computed words, whose place may be another. */
const sortedRest = (line: ReadLine): string => {
  const { block } = line;
  const computed: string[] = [];
  for (let i = 0; i < block.wordCount; i++) {
    if ((block.flags[i] & WordFlag.computed) !== 0)
      computed.push(
        block
          .wordText(i)
          .replace(/[ \t]+/g, '')
          .toUpperCase(),
      );
  }
  let rest = restOf(line);
  for (const text of computed) rest = rest.replace(text, '');
  return rest;
};
