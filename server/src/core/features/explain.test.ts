import { describe, expect, test } from 'vitest';
import { executed } from '../../../../tests/harness/path.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { explainBlock, type SentencePart } from './explain.ts';

const explained = (text: string, line: number) => explainBlock(executed(text), DEFAULT_CONFIGURATION, line);
const joined = (parts: readonly SentencePart[]): string =>
  parts.map((part) => (typeof part === 'string' ? part : `<${part.line}>`)).join('');

const HEAD = `G17 G21 G40 G49 G80 G90 G54
T1 M6 (END MILL D10)
S3000 M3
G0 X0. Y0. Z5.
`;

describe('a block in sentences', () => {
  const cut = explained(`${HEAD}G1 Z-1. F200\nX30.\nY10.`, 5);

  test('what it does, from where to where, and how long it takes', () => {
    expect(cut.text).toBe('X30.');
    expect(joined(cut.sentences[0]!)).toMatch(/^Straight cut: X 0 → 30, 30 mm long at 200 mm\/min, 9 s\.$/);
    expect([cut.before, cut.after, cut.time]).toEqual(['X0. Y0. Z-1.', 'X30. Y0. Z-1.', '9 s']);
    expect(cut.words.map(({ title, text }) => [title, joined(text)])).toEqual([['X30.', 'X to 30 mm (moves +30)']]);
  });

  test('what it inherits, each with the line that set it', () => {
    const lines = Object.fromEntries(cut.modes.map(({ word, line }) => [word, line]));
    expect(lines).toMatchObject({ G1: 4, F200: 4, T1: 1, S3000: 2, M3: 2, G54: 0, G90: 0, G21: 0, G17: 0 });
    expect(cut.modes.find(({ word }) => word === 'G54')?.text).toBe('work offset 1');
    expect(cut.modes.find(({ word }) => word === 'T1')?.text).toBe('END MILL D10');
    expect(cut.modes.every(({ isOwn }) => !isOwn)).toBe(true);
  });

  test('what it sets itself is its own, what nothing set is as the control starts', () => {
    const { modes } = explained('G1 X10. F100\n', 0);
    expect(modes.find(({ word }) => word === 'F100')).toMatchObject({ isOwn: true, line: 0 });
    expect(modes.find(({ word }) => word === 'G90')).toEqual({
      word: 'G90',
      text: 'coordinates from the work zero',
      isOwn: false,
    });
  });

  test('lines that a sentence names can be gone to', () => {
    const text = `${HEAD}#1=0\nWHILE [#1 LT 3] DO1\nX#1\n#1=#1+1\nEND1\nM30`;
    expect(joined(explained(text, 8).sentences[0]!)).toBe('Back to the head of the loop in <5>.');
    expect(explained(text, 6).sentences.map(joined).at(-1)).toMatch(/first of 3 passes/);
  });

  test.each([
    ['%', 'Marks the start or the end of the program.'],
    ['O12 (PLATE)', 'Program number 12: the program begins here.'],
    ['(M8 THREADS)', 'A remark for the reader. The machine does nothing.'],
    ['', 'Nothing in this line.'],
    ['#1=4.', 'Sets values, nothing moves.'],
    ['G90 G55', 'Nothing moves: the block sets what holds from here on.'],
  ])('without a move: %s', (block, sentence) => {
    expect(explained(block, 0).sentences.map(joined)).toEqual([sentence]);
  });

  test('a variable that is set is told with its value', () => {
    const { words } = explained('#1=4.\n#2=#1*2.\n', 1);
    expect(words.map(({ title, text }) => [title, joined(text)])).toEqual([['#2', 'is set to 8']]);
  });

  test('a block that is never reached says so and has neither modes nor places', () => {
    const never = explained(`${HEAD}GOTO 10\nX5.\nN10 M30`, 5);
    expect(joined(never.sentences[0]!)).toMatch(/never/i);
    expect([never.modes, never.before, never.after]).toEqual([[], '', '']);
  });

  test('no sign of Markdown is left', () => {
    const { sentences, words } = explained(`${HEAD}G65 P100 A1. B-2. (CALL)\nM30\nO100\nM99`, 4);
    expect([...sentences, ...words.map(({ text }) => text)].map(joined).join()).not.toMatch(/\\|\*\*/);
  });
});
