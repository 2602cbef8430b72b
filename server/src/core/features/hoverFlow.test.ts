import { describe, expect, test } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import type { SubprogramHost } from '../checks/flow/host.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { hoverAt } from './hover.ts';

const HEAD = 'G17 G21 G40 G49 G80 G90 G54\nG0 X0. Y0. Z10.\n';
const HOST: SubprogramHost = { lookup: (number) => (number === 900 ? { text: 'O900\nM99' } : 'absent') };

/** The lines of the hover where `|` stands, without Markdown's backslashes. */
function hover(text: string, configuration: Configuration = DEFAULT_CONFIGURATION): string[] {
  const whole = HEAD + text;
  const before = whole.slice(0, whole.indexOf('|')).split('\n');
  const analysis = new Analysis(whole.replace('|', ''), configuration, HOST);
  analysis.run();
  const found = hoverAt(analysis, configuration, before.length - 1, before[before.length - 1].length);
  return found?.markdown.replaceAll('\\', '').split('\n\n') ?? [];
}

describe('jumps', () => {
  test.each([
    ['|GOTO 10\nN10 M30', 'Goes on at N10 in line 4.'],
    ['|GOTO 11\nN10 M30', 'Goes on at N11, which this program does not have.'],
    [
      '#1=2\nIF [#1 EQ 2]| GOTO 10\nN10 M30',
      'Where [#1 EQ 2] holds, goes on at N10 in line 5. The first time it does.',
    ],
    [
      '#1=2\nIF [#1 EQ 3]| GOTO #1\nN10 M30',
      'Where [#1 EQ 3] holds, goes on at N2, which this program does not have. The first time it does not.',
    ],
    [
      'IF [#1000 EQ 3]| GOTO 10\nN10 M30',
      'Where [#1000 EQ 3] holds, goes on at N10 in line 4. Whether it does is not known here.',
    ],
    ['#1=2\nIF [#1 EQ 2]| THEN #2=5.\nM30', 'Sets the variable only where [#1 EQ 2] holds. The first time it does.'],
    ['GOTO 10\n|GOTO 10\nN10 M30', 'The run never comes to this block.'],
    ['#3000=1 (STOP)\n|X5.\nM30', 'The run ends before it comes to this block.'],
  ])('%s', (text, expected) => expect(hover(text)).toContain(expected));
});

describe('loops', () => {
  const LOOP = '#1=1.\nWHILE [#1 LE 3]| DO1\n~X#1\n#1=#1+1\nEND1\nM30';

  test('how long, how often, where', () => {
    expect(hover(LOOP.replace('~', ''))).toContain('Lines 5 to 6 are run as long as [#1 LE 3] holds: 3 passes in all.');
    expect(hover(LOOP.replace('|', '').replace('END1', 'END1|').replace('~', ''))).toContain(
      'Back to the head of the loop in line 4.',
    );
    expect(hover('#1=9.\nWHILE [#1 LE 3]| DO1\nX#1\nEND1\nM30')).toContain(
      'Line 5 is run as long as [#1 LE 3] holds: the first time it does not, and nothing is run.',
    );
    expect(hover('WHILE [#1000 LE 3]| DO1\nX1.\nEND1\nM30')).toContain(
      'Line 4 is run as long as [#1000 LE 3] holds. Whether it does is not known here: one pass is shown.',
    );
    expect(hover('WHILE [1 EQ 1]| DO1\nX1.\nM30')).toContain('Begins a loop that no END closes.');
  });

  test('the numbers of a block in it are those of the first pass', () => {
    const lines = hover(LOOP.replace('|', '').replace('~', '|'));
    expect(lines[0]).toBe('**X#1** comes to 1: X to 1 mm (moves +1)');
    expect(lines).toContain('The numbers are those of the first of 3 passes.');
  });

  test.each([
    // Three ways over N10: the block, the jump back and the blocks around it are run as often.
    ['#1=0\nN10 |X#1\n#1=#1+1\nIF [#1 LT 3] GOTO 10\nM30', 'the first of 3 passes.'],
    ['#1=0\nN10 X#1\n#1=#1+1\nIF [#1 LT 3] |GOTO 10\nM30', 'the first of 3 passes.'],
    ['#1=0\nN10 X#1\n#1=#1+1\nIF [#1 LT 3] GOTO 10\n|Y5.\nM30', undefined],
    ['|Y5.\n#1=0\nN10 X#1\n#1=#1+1\nIF [#1 LT 3] GOTO 10\nM30', undefined],
    ['#1=5\nN10 |X#1\nIF [#1 LT 3] GOTO 10\nM30', undefined],
    // What is behind the way out is run once less than what is before it.
    ['#1=0\nN10 X#1\n#1=#1+1\nIF [#1 GE 3] GOTO 20\n|Y1.\nGOTO 10\nN20 M30', 'the first pass of several.'],
    ['#1=0\nN10 |X#1\n#1=#1+1\nIF [#1 GE 3] GOTO 20\nY1.\nGOTO 10\nN20 M30', 'the first pass of several.'],
    [
      '#2=0\nWHILE [#2 LT 2] DO1\n#1=0\nN10 |X#1\n#1=#1+1\nIF [#1 LT 3] GOTO 10\n#2=#2+1\nEND1\nM30',
      'the first pass of several.',
    ],
  ])('a block that a jump leads back over: %s', (text, expected) => {
    const told = hover(text).find((sentence) => sentence.startsWith('The numbers'));
    expect(told).toBe(expected && `The numbers are those of ${expected}`);
  });

  test('passes of an inner loop are counted in all passes of the outer one, also after a line above it', () => {
    const text = '#1=0\nWHILE [#1 LT 2] DO1\n#2=0\nWHILE [#2 LT 4] DO2\n#2=#2+1\nEND2\n#1=#1+1\nEND1\nM30';
    const analysis = new Analysis(text);
    analysis.run();
    expect([analysis.timesBackAt(1), analysis.timesBackAt(3)]).toEqual([2, 8]);
    analysis.edit(0, 0, 0, 0, '(A REMARK)\n');
    analysis.run();
    expect([analysis.timesBackAt(2), analysis.timesBackAt(4)]).toEqual([2, 8]);
  });
});

describe('calls', () => {
  const SUB = '\nM30\nO100\nX#24 Z-#26\nM99';

  test.each([
    [`|M98 P100 L3${SUB}`, 'Runs O100 (line 5) 3 times.'],
    [`|M98 P100${SUB}`, 'Runs O100 (line 5).'],
    ['|M98 P900\nM30', 'Runs O900 (in a file of its own).'],
    ['|M98 P901\nM30', 'Runs O901 (nowhere to be found).'],
    [`|G65 P100 X[10.+5.] Z2.${SUB}`, 'Runs O100 (line 5), with X #24 = 15, Z #26 = 2.'],
    [`|G66 P100 X1. Z2.${SUB}`, 'Runs O100 (line 5), after every move from here to G67, with X #24 = 1, Z #26 = 2.'],
    ['M98 P100\nM30\nO100\n|M99', 'Back to the program that called, behind the call.'],
    ['M98 P100\nM30\nO100\n|M99 P50', 'Back to the program that called, to its block N50.'],
    ['X1.\n|M99', 'Begins the program again from its first block.'],
  ])('%s', (text, expected) => expect(hover(text)).toContain(expected));

  test.each([
    [`G65 P100 |X5. Z2.${SUB}`, '**X5.** gives the called program #24 = 5'],
    [`G65 |P100 X5. Z2.${SUB}`, '**P100** the program that is called: O100 (line 5)'],
    [`M98 P100 |L3${SUB}`, '**L3** runs it 3 times'],
    ['M98 P100\nN50 M30\nO100\nM99 |P50', '**P50** block N50 that it goes on at'],
  ])('%s', (text, expected) => expect(hover(text)[0]).toBe(expected));
});

test('a called program tells how often it is run, where that is sure', () => {
  const SUB = '\nM30\nO100\n|X5.\nM99';
  const last = (text: string) => hover(text).find((sentence) => sentence.startsWith('The numbers'));
  expect(last(`M98 P100${SUB}`)).toBeUndefined();
  expect(last(`M98 P100 L3\nM98 P100${SUB}`)).toBe('The numbers are those of the first of 4 runs of this program.');
  expect(last('M98 P200 L2\nM30\nO200\nM98 P100 L3\nM99\nO100\n|X5.\nM99')).toContain('first of 6 runs');
  expect(last(`#1=0\nWHILE [#1 LT 3] DO1\nM98 P100\n#1=#1+1\nEND1${SUB}`)).toBe(
    'The numbers are those of the first run of several of this program.',
  );
});

test('after a change of the work offset the way is not counted from the other zero', () => {
  expect(hover('G54 X5.\nG55 |X7.\nM30')[0]).toBe('**X7.** X to 7 mm, from a place not known yet');
});

describe('the control’s own variables', () => {
  test.each([
    ['#1=|#5041', '**#5041** position now, X: 0'],
    ['#1=|#5221', '**#5221** work offset G54, X'],
    ['#1=|#0', '**#0** is always empty'],
    ['|#3006=1 (TURN)\nM30', '**#3006** stop with a message: a value given to it stops like M0'],
  ])('%s', (text, expected) => expect(hover(text)[0]).toBe(expected));

  test('alarm and stop are said in words', () => {
    expect(hover('|#3000=12 (NO DEPTH)\nM30')).toContain(
      'The program’s own alarm 12, shown with “NO DEPTH”: the machine stops, and the program ends here.',
    );
    expect(hover('|#3006=1 (TURN THE PART)\nM30')).toContain(
      'Stops like M0, shown with “TURN THE PART”, until the operator goes on.',
    );
  });
});
