import { describe, expect, test } from 'vitest';
import { executed, type ProfileChoice } from '../../../../tests/harness/path.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { allOf } from './referencesText.ts';
import { statusAt } from './statusAt.ts';
import { programTime } from './statusTime.ts';
import { tracedMoves } from './trace.ts';

/** The status behind a line (from 0), the last one where none is given. */
function status(text: string, line?: number, profile: ProfileChoice = 'iso') {
  const analysis = executed(text, profile);
  const at = line ?? analysis.lineCount - 1;
  return statusAt(analysis, at, allOf(programTime(analysis, DEFAULT_CONFIGURATION, at)));
}

const HEAD = 'G17 G21 G40 G49 G80 G90 G54\nT3 M6\nS2400 M3\nG0 X10. Y20. Z5.\n';

describe('the status behind a block', () => {
  test.each([
    ['G1 Z-5. F300', 'G1 G90 G54 T3 S2400 F300 · X10. Y20. Z-5.'],
    ['(A REMARK)', 'G0 G90 G54 T3 S2400 · X10. Y20. Z5.'],
    ['G91 G1 X1.5 F80', 'G1 G91 G54 T3 S2400 F80 · X11.5 Y20. Z5.'],
    ['G81 Z-8. R2. F90', 'G81 G90 G54 T3 S2400 F90 · X10. Y20. Z5.'],
    ['G18 G55', 'G0 G18 G90 G55 T3 S2400 · X? Y? Z?'],
    ['G95 G1 X0. F0.12', 'G1 G90 G95 G54 T3 S2400 F0.12 · X0. Y20. Z5.'],
    ['M5', 'G0 G90 G54 T3 M5 · X10. Y20. Z5.'],
    ['M4', 'G0 G90 G54 T3 S2400 M4 · X10. Y20. Z5.'],
    ['G54.1 P12', 'G0 G90 G54.1 P12 T3 S2400 · X? Y? Z?'],
    ['G0 A90. C0.', 'G0 G90 G54 T3 S2400 · X10. Y20. Z5. A90.'],
    ['G68 X0. Y0. R30.', 'G0 G90 G68 G54 T3 S2400 · X10. Y20. Z5.'],
  ])('%s', (block, text) => {
    expect(status(HEAD + block).text).toBe(text);
  });

  test('numbers are in the program’s units', () => {
    const text = status('G20 G90 G54\nG0 X1. Y0.25 Z2.\nG1 X1.5 F12.\n', 2).text;
    expect(text).toBe('G1 G20 G90 G54 M5 F12 · X1.5 Y0.25 Z2.');
  });

  test('a line that the run never comes to has no state', () => {
    expect(status(`${HEAD}GOTO 10\nX5.\nN10 M30`, 5).text).toBe('not reached by the run');
  });

  test('the time of the whole program, and until the line', () => {
    const { time, sentences } = status('G21 G90 G54\nG0 X0. Y0. Z0.\nG1 X100. F100\nG1 X150.\nX151. F0\nM30', 3);
    expect(time).toBe('1 min 30 s');
    expect(sentences[0]).toBe('Line 4 is reached after 1 min 0 s of 1 min 30 s.');
  });

  test('moves without F are told of', () => {
    const { time, sentences } = status('G21 G90 G54\nG0 X0. Y0. Z0.\nG1 X100.\nX0.\nG4 P2.5\nM30', 5);
    expect([time, sentences[1]]).toEqual(['2.5 s', '2 moves at feed have no F and are not counted.']);
  });

  test('all passes of a loop count, and the time is that of the trace', () => {
    const text = `${HEAD}#1=0\nWHILE [#1 LT 7] DO1\nG1 X[10.+#1] F60\nG2 X10. R20.\n#1=#1+1\nEND1\nG0 Z50.\nM30`;
    const analysis = executed(text);
    const { seconds } = allOf(programTime(analysis, DEFAULT_CONFIGURATION, 0));
    const traced = [...tracedMoves(analysis)].reduce((sum, move) => sum + (move.seconds || 0), 0);
    expect(seconds).toBeCloseTo(traced, 9);
    expect(seconds).toBeGreaterThan(20);
  });

  test('an edit is summed up anew', () => {
    const analysis = executed('G21 G90 G54\nG0 X0. Y0. Z0.\nG1 X100. F100\nM30');
    expect(allOf(programTime(analysis, DEFAULT_CONFIGURATION, 0)).seconds).toBeCloseTo(60, 6);
    analysis.edit(2, 4, 2, 7, '200');
    analysis.run();
    expect(allOf(programTime(analysis, DEFAULT_CONFIGURATION, 0)).seconds).toBeCloseTo(120, 6);
  });
});
