/** Whatever a program says, it is executed to its end: nothing throws, every finding stands inside its line. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { executed } from '../../../../tests/harness/path.ts';
import { MoveFlag } from './moves.ts';
import { PROFILES } from './profile.ts';

const number = fc.integer({ min: -40_000, max: 40_000 }).map((n) => (n / 1000).toString());
const codes = [
  '0',
  '1',
  '2',
  '3',
  '4',
  '9',
  '10',
  '15',
  '16',
  '17',
  '18',
  '19',
  '20',
  '21',
  '28',
  '29',
  '30',
  '33',
  '38.2',
  '40',
  '41',
  '43',
  '49',
  '50',
  '50.1',
  '51',
  '51.1',
  '52',
  '53',
  '54',
  '54.1',
  '55',
  '59.1',
  '61',
  '64',
  '65',
  '68',
  '69',
  '73',
  '74',
  '76',
  '80',
  '81',
  '82',
  '83',
  '84',
  '85',
  '86',
  '87',
  '88',
  '89',
  '90',
  '90.1',
  '91',
  '91.1',
  '92',
  '92.1',
  '92.3',
  '93',
  '94',
  '95',
  '96',
  '97',
  '98',
  '99',
  '123',
  '-1',
  '1.5',
];
const word = fc.oneof(
  { weight: 4, arbitrary: fc.constantFrom(...codes).map((code) => `G${code}`) },
  { weight: 8, arbitrary: fc.tuple(fc.constantFrom(...'XYZABCIJKRQPFSLHDUVW'), number).map((parts) => parts.join('')) },
  {
    weight: 1,
    arbitrary: fc.constantFrom('M0', 'M3', 'M5', 'M6', 'M8', 'M9', 'M30', 'M98P1', 'M99', 'T3', 'T0', 'N5'),
  },
  { weight: 1, arbitrary: fc.constantFrom('#1=5', '#2=#1*2.', 'X#1', 'Y#2', 'Z[#1/#3]', '(TAP M6)', '/', '%', 'O12') },
  { weight: 1, arbitrary: fc.constantFrom('L0', 'L3', 'K2', 'Q.001', 'GOTO5', 'IF[#1EQ5]THEN#3=1', 'DO1', 'END1') },
);
const program = fc
  .array(
    fc.array(word, { maxLength: 6 }).map((words) => words.join(' ')),
    { maxLength: 30 },
  )
  .map((blocks) => blocks.join('\n'));

describe('random programs', () => {
  it.each(Object.keys(PROFILES))('%s', (profile) => {
    fc.assert(
      fc.property(program, (text) => {
        const analysis = executed(text, profile);
        const lines = text.split('\n');
        for (const { line, column, endColumn, message } of analysis.findings().findings) {
          expect(line).toBeGreaterThanOrEqual(0);
          expect(line).toBeLessThan(lines.length);
          expect(column).toBeGreaterThanOrEqual(0);
          expect(endColumn).toBeGreaterThanOrEqual(column);
          expect(endColumn).toBeLessThanOrEqual(lines[line].length);
          expect(message).not.toMatch(/NaN|undefined|Infinity|\{/);
        }
        for (const { segments } of analysis.chunks) {
          for (const { moves } of segments) {
            for (let i = 0; i < moves.count; i++) {
              expect(moves.kinds[i] & MoveFlag.kindMask).toBeLessThanOrEqual(4);
              for (let axis = 0; axis < 3; axis++) {
                expect(Math.abs(moves.ends[i * 3 + axis])).not.toBe(Number.POSITIVE_INFINITY);
              }
            }
          }
        }
      }),
      { numRuns: 700, seed: 60 },
    );
  });
});
