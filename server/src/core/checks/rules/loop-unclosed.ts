import type { ProgramFacts } from '../facts.ts';
import type { Loop } from '../flow/layout.ts';
import { lineRange } from '../support/calledPrograms.ts';
import { defineRule } from '../support/gradedRule.ts';

/** Most loops inside one another, and the numbers that DO and END may carry. Common practice, no source. */
const MOST_LOOPS = 3;

/** WHILE without END, END without WHILE, loops that cross, and numbers that no loop may have. */
export const loopUnclosed = defineRule({
  code: 'loop-unclosed',
  severity: 'error',
  reason: 'The control alarms at the loop, or closes another one than is meant.',
  messages: {
    unclosed: 'DO{number} has no END{number} behind it. Write END{number} behind the last block of the loop.',
    stray:
      'END{number} closes no loop: there is no WHILE with DO{number} before it. Take it out, or give it the number of its loop.',
    crossed:
      'DO{number} begins inside the loop of line {outer}, and its END{number} in line {end} stands outside it. Close the inner loop first.',
    'same-number':
      'DO{number} stands inside another DO{number}, of line {outer}. Give the inner loop another number from 1 to 3.',
    number: '{word}{number} is no loop: loops are numbered 1, 2 and 3. Give DO and END one of these.',
  },
  program(facts, report) {
    if (!facts.inFlow) return;
    const { loops, strayEnds } = facts.layout;
    const strays = new Set(strayEnds);
    const tell = (message: string, line: number, word: string, data: Record<string, string | number>): void => {
      const [column, endColumn] = placeOf(facts, line, word);
      report(message, line, column, endColumn, data);
    };
    for (const loop of loops) {
      const { number, head } = loop;
      const outer = loops.find((other) => other.head < head && head < other.end);
      const crossing = loop.end >= 0 ? undefined : strayEnds.find((end) => end.number === number && end.line > head);
      if (Number.isNaN(number)) continue;
      if (!isLoopNumber(number)) tell('number', head, 'DO', { word: 'DO', number });
      else if (crossing !== undefined && outer !== undefined && strays.delete(crossing))
        tell('crossed', head, 'DO', { number, outer: outer.head + 1, end: crossing.line + 1 });
      else if (loop.end < 0) tell('unclosed', head, 'DO', { number });
      else if (sameNumberAround(loops, loop) >= 0)
        tell('same-number', head, 'DO', { number, outer: sameNumberAround(loops, loop) + 1 });
    }
    for (const { line, number } of strays) {
      if (Number.isNaN(number)) continue;
      const isNumber = isLoopNumber(number);
      tell(isNumber ? 'stray' : 'number', line, 'END', { word: 'END', number });
    }
  },
});

const isLoopNumber = (number: number): boolean => Number.isInteger(number) && number >= 1 && number <= MOST_LOOPS;

/** Head of a loop around this one that carries the same number, −1 none. */
const sameNumberAround = (loops: readonly Loop[], { number, head }: Loop): number =>
  loops.find((other) => other.number === number && other.head < head && head < other.end)?.head ?? -1;

/** Columns of DO or END with its number. */
const placeOf = (facts: ProgramFacts, line: number, word: string): readonly [number, number] => {
  const pattern = new RegExp(`${word.split('').join('\\s*')}\\s*\\d*`, 'gi');
  const text = facts.lineText(line).replace(/\([^)]*\)?|;.*/g, (remark) => ' '.repeat(remark.length));
  const match = [...text.matchAll(pattern)].at(-1);
  return match === undefined ? lineRange(facts, line) : [match.index, match.index + match[0].trimEnd().length];
};
