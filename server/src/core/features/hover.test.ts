import { describe, expect, test } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { PROFILES } from '../machine/profile.ts';
import { hoverAt } from './hover.ts';

const HEAD = 'G17 G21 G40 G49 G80 G90 G54\nT1 M6 (TAP M6X1)\nS500 M3\nG0 X0. Y0. Z10.\n';

/** The lines of the hover where `|` stands in the program. */
function hoverLines(text: string, configuration: Configuration = DEFAULT_CONFIGURATION): string[] | undefined {
  const offset = text.indexOf('|');
  const before = text.slice(0, offset).split('\n');
  const analysis = new Analysis(text.replace('|', ''), configuration);
  analysis.run();
  const column = before[before.length - 1].length;
  return hoverAt(analysis, configuration, before.length - 1, column)?.markdown.split('\n\n');
}

const word = (block: string, head = HEAD, configuration = DEFAULT_CONFIGURATION) =>
  hoverLines(head + block, configuration)?.[0];
const block = (text: string, head = HEAD, configuration = DEFAULT_CONFIGURATION) =>
  hoverLines(head + text, configuration)?.slice(1);

describe('a word', () => {
  test.each([
    ['|G0 X12.5', '**G0** go there at rapid'],
    ['|M8', '**M8** flood coolant on'],
    ['|G1 X5. F100', '**G1** cut in a straight line at feed; ends G0 rapid'],
    ['|G21', '**G21** lengths in millimetres'],
    ['G81 X5. Z-5. R2. F100\n|G80', '**G80** end the cycle; G81 drill'],
    ['G43 H1 Z10.\n|G98 G81 X5. Z-5. R2. F100', '**G98** cycle retracts to the level before it; back to Z10'],
    ['|M4', '**M4** spindle on, counter-clockwise; at 500 rev/min; ends M3'],
    ['T7 |M6', '**M6** change tool; to T7'],
    ['G0 |X12.5', '**X12.5** X to 12.5 mm (moves +12.5)'],
    ['G0 |Z2.', '**Z2.** Z to 2 mm (moves -8)'],
    ['G0 |X0.', '**X0.** X to 0 mm, where it stands already'],
    ['G91 G0 |X-3.', '**X\\-3.** X to -3 mm (moves -3)'],
    ['#1=4.\nG0 |X[#1*2.]', '**X\\[\\#1\\*2.\\]** comes to 8: X to 8 mm (moves +8)'],
    ['G1 X1. |F200', '**F200** feed 200 mm/min, 0.4 mm a turn'],
    ['G95 G1 X1. |F0.1', '**F0.1** feed 0.1 mm a turn of the spindle, 50 mm/min at S500'],
    ['G93 G1 X1. |F2.', '**F2.** this block takes 1/2 min, 30 s'],
    ['|#1=4.*2.', '**\\#1** is set to 8'],
    ['#1=4.\n#2=|#1*2.', '**\\#1** holds 4, set in line 5'],
    ['#1=4.\n|#1=5.', '**\\#1** is set to 5; held 4 before'],
    ['#2=|#1*2.', '**\\#1** holds nothing'],
    ['#1=4.\nG0 X[|#1*2.]', '**\\#1** holds 4, set in line 5'],
    ['|#<pitch>=1.5 (OF #2)', '**\\#\\<pitch\\>** is set to 1.5'],
    ['|S800', '**S800** spindle speed 800 rev/min, 15.1 m/min at diameter 6'],
    ['|T1', '**T1** tool 1: TAP M6X1'],
    ['G2 X10. Y10. |I10. F100', '**I10.** centre of the arc is 10 from the start in X: X10'],
    ['G2 X10. Y10. |R10. F100', '**R10.** radius 10 mm, the arc of at most half a turn'],
    ['G2 X10. Y10. |R-10. F100', '**R\\-10.** radius 10 mm, the arc of more than half a turn'],
    ['G2 X10. Y10. I10. |K3. F100', '**K3.** names the centre in Z, which the XY plane does not have'],
    ['G81 X5. |Z-12. R2. F100', '**Z\\-12.** bottom of the hole at Z-12, 14 mm below R'],
    ['G81 X5. Z-12. |R2. F100', '**R2.** level R, where feeding begins: 2 mm'],
    ['G83 X5. Z-12. R2. |Q3. F100', '**Q3.** depth of a peck, 3 mm'],
    ['G4 |P1.5', '**P1.5** wait of 1.5 s, read as seconds by this control'],
    ['G4 |P500', '**P500** wait of 0.5 s, read as milliseconds by this control'],
    ['|N25 G0 X1.', '**N25** sequence number of this block'],
    ['G43 |H3 Z5.', '**H3** length of the tool from register 3'],
  ])('%s', (text, expected) => {
    expect(word(text)).toBe(expected);
  });

  test('lengths are in the program’s units', () => {
    expect(word('G1 |X1.5 F10.', 'G20 G90\nG0 X1. Y0. Z1.\n')).toBe('**X1.5** X to 1.5 in (moves +0.5)');
  });

  test('a dwell is read as the profile reads it', () => {
    const macro = { ...DEFAULT_CONFIGURATION, profile: PROFILES['iso-macro'] };
    expect(word('G4 |P20', 'G21 G90\n', macro)).toBe('**P20** wait of 0.02 s, read as milliseconds by this control');
  });

  test('the tool table describes a tool better than its remark', () => {
    const tools = [{ number: 1, kind: 'tap', description: 'Spiral tap' }] as const;
    expect(word('|T1', HEAD, { ...DEFAULT_CONFIGURATION, tools })).toBe('**T1** tool 1: Spiral tap');
  });
});

test('a variable in a word comes before what the word comes to', () => {
  expect(block('#1=4.\nG0 X[|#1*2.]')?.[0]).toBe('**X\\[\\#1\\*2.\\]** comes to 8: X to 8 mm (moves +8)');
  expect(word('#1=4.\nG0 |X#1')).toMatch(/^\*\*X/);
});

test('a variable in a remark is not explained', () => {
  expect(hoverLines(`${HEAD}#1=4. (OF |#2)`)).toBeUndefined();
});

describe('a remark', () => {
  test.each([
    ['(SIX |M8 HOLES)', '**M8** thread M8X1.25: pitch 1.25 mm, tap drill 6.8 mm'],
    ['T1 M6 (TAP |M6X1)', '**M6X1** thread M6X1: pitch 1 mm, tap drill 5 mm'],
    ['T1 M6 (FORMING TAP |M6)', '**M6** thread M6X1: pitch 1 mm, tap drill for a forming tap 5.5 mm'],
    ['T1 M6 (TAP |M6 LH)', '**M6** thread M6X1: pitch 1 mm, tap drill 5 mm, left hand'],
    ['T2 M6 (|END MILL D10 3FL)', '**END MILL D10 3FL** taken for an end mill by the checks: diameter 10 mm, 3 teeth'],
  ])('%s', (text, expected) => expect(hoverLines(HEAD + text)).toEqual([expected]));

  test('in inches with the trade’s name of the drill', () => {
    expect(hoverLines('G20\nT1 M6 (TAP |1/4-20 UNC)')).toEqual([
      '**1/4\\-20 UNC** thread 1/4-20 UNC: pitch 0.05 in, tap drill #7, 0.201 in',
    ]);
  });

  test.each(['(ZERO: |TOP FACE)', '(SIX M8 |HOLES)', '(USE |A DRILL D5)', '(|)'])('nothing at %s', (text) => {
    expect(hoverLines(HEAD + text)).toBeUndefined();
  });
});

describe('what a move inherits', () => {
  const last = (text: string, configuration?: Configuration) => hoverLines(text, configuration)?.at(-1);

  test('with the lines, those of one line together', () => {
    expect(last(`${HEAD}G1 X1. F200\n|X2.`)).toBe(
      'From line 1: G21 G90 G54 · line 2: T1 TAP M6X1 · line 3: S500 M3 · line 5: G1 F200',
    );
  });

  test('what the block says itself is left out, and what a rapid does not need', () => {
    expect(last(`${HEAD}G91 |X2.`)).toBe('From line 1: G21 G54 · line 2: T1 TAP M6X1 · line 4: G0');
  });

  test('the plane for arcs, the cycle for holes, registers and feed mode where they are on', () => {
    expect(last(`${HEAD}G2 |X10. Y10. I10. F100`)).toContain('line 1: G17 G21');
    expect(last(`${HEAD}G99 G81 X1. Z-5. R2. F100\n|X5.`)).toContain('line 5: G99 G81 F100');
    expect(last(`${HEAD}G43 H1 Z5.\nG95 G1 X1. F0.1\n|X2.`)).toContain('line 5: G43 H1 · line 6: G1 G95 F0.1');
  });

  test('the last place of several, and links where they are made', () => {
    const text = `${HEAD}G90\nG0 X5.`;
    const analysis = new Analysis(text);
    analysis.run();
    const found = hoverAt(
      analysis,
      DEFAULT_CONFIGURATION,
      5,
      0,
      (line) => `[line ${line + 1}](file:///a.nc#L${line + 1})`,
    );
    expect(found?.markdown).toContain('[line 5](file:///a.nc#L5): G90');
  });

  test('nothing for a block that does not move', () => {
    expect(hoverLines(`${HEAD}|M8`)).toHaveLength(1);
    expect(hoverLines(`${HEAD}G91 |G28 Z0.`)?.at(-1)).not.toContain('From');
  });

  test('through a call: the line in the program that called', () => {
    expect(last(`${HEAD}G1 X1. F300\nM98 P100\nM30\nO100\n|X3.\nM99`)).toContain('line 5: G1 F300');
  });
});

describe('a block', () => {
  test('a tool call is said once, by its word', () => {
    expect(block('|T1 M6')).toEqual([]);
    expect(block('T1 |M6 (DRILL D5)')).toEqual([]);
    expect(block('|S500 M3')).toEqual(['T1 TAP M6X1, S500 clockwise.']);
  });

  test('an arc that its words do not give is shown as a straight line, and said to be', () => {
    expect(block('G2 |X10. Y10. K10. F100')?.[0]).toBe(
      'No arc comes of these words; shown as a straight line: X 0 → 10, Y 0 → 10, 14.142 mm long at 100 mm/min, 8.49 s.',
    );
  });

  test('a line: from, to, length, feed, time, tool', () => {
    expect(block('G1 |X3. Y4. F600')).toEqual([
      'Straight cut: X 0 → 3, Y 0 → 4, 5 mm long at 600 mm/min, 0.5 s.',
      'From line 1: G21 G90 G54 · line 2: T1 TAP M6X1 · line 3: S500 M3',
    ]);
  });

  test('an arc: centre, radius, direction, angle', () => {
    expect(block('G3 |X10. Y10. J10. F200')?.slice(0, 2)).toEqual([
      'Counter-clockwise arc in XY: X 0 → 10, Y 0 → 10, 15.708 mm long at 200 mm/min, 4.71 s.',
      'Centre X0 Y10, radius 10 mm, 90° counter-clockwise.',
    ]);
  });

  test('a helix: turns and lead a turn', () => {
    expect(block('G2 |I5. Z4. P3 F200')?.[1]).toBe(
      'Centre X5 Y0, radius 5 mm, 1080° clockwise, 3 turns, lead 2 mm a turn down.',
    );
  });

  test('an arc in another plane names its axes', () => {
    expect(block('G18 G3 |X10. Z20. I10. F200')?.[1]).toBe('Centre X10 Z10, radius 10 mm, 90° counter-clockwise.');
  });

  test('feed a turn under G95', () => {
    expect(block('G95 G1 |X10. F0.2')?.[0]).toContain('at 100 mm/min, 0.2 mm a turn');
  });

  test('a cycle: what it does in order, its levels, pecks and time', () => {
    expect(block('G99 G83 |X5. Z-12. R2. Q3. F100')?.[0]).toBe(
      'Drill in pecks: rapid to R at Z2, feed to Z-12 at 100 mm/min in 5 pecks of 3 mm, rapid out to Z2; 10.1 s with the way there.',
    );
    expect(block('G98 G82 |X5. Z-2. R2. P1.5 F100')?.[0]).toContain('wait 1.5 s, rapid out to Z10');
    // The depth is that of the tip.
    expect(block('G81 |X5. Z-12. R2. F100', HEAD.replace('TAP M6X1', 'DRILL D5'))?.[0]).toContain(
      'feed to Z-12 (full Ø5 down to Z-10.5) at',
    );
  });

  test('tapping: feed a turn, spindle reverses, out at feed', () => {
    const lines = block('G84 |X5. Z-12. R5. F500')!;
    expect(lines[0]).toContain('spindle reverses, feed out to Z5');
    expect(lines[0]).toContain('feed to Z-12 at 500 mm/min, 1 mm a turn, spindle reverses');
  });

  test('a wait', () => {
    expect(block('G4 |P2.')).toEqual(['Waits 2 s.']);
  });

  test('a place that is not known is shown as such', () => {
    expect(block('G1 |X1. F100', 'G21 G90\n')?.[0]).toBe('Straight cut: X ? → 1 at 100 mm/min.');
  });

  test('nothing on an empty line', () => {
    expect(hoverLines(`${HEAD}|\nG0 X1.`)).toBeUndefined();
  });
});
