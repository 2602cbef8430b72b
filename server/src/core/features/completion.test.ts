import { describe, expect, test } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { PROFILES } from '../machine/profile.ts';
import { completionsAt } from './completion.ts';
import type { WordItem } from './completionPlace.ts';

const HEAD = 'G17 G21 G40 G49 G80 G90 G94 G54\nT1 M6 (TAP M6X1)\nS500 M3\nG0 X0. Y0. Z10.\n';
const under = (profile: string, more: Partial<Configuration> = {}): Configuration => ({
  ...DEFAULT_CONFIGURATION,
  profile: PROFILES[profile],
  ...more,
});

/** The words offered where `|` stands. */
const offered = (text: string, configuration: Configuration = DEFAULT_CONFIGURATION): readonly WordItem[] => {
  const before = text.slice(0, text.indexOf('|')).split('\n');
  const analysis = new Analysis(text.replace('|', ''), configuration);
  analysis.run();
  const column = before[before.length - 1].length;
  return completionsAt(analysis, configuration, before.length - 1, column, false).words;
};
const labels = (text: string, configuration?: Configuration) => offered(text, configuration).map(({ label }) => label);
const effectOf = (text: string, label: string, configuration?: Configuration) =>
  offered(text, configuration).find((item) => item.label === label)?.effect ?? `${label} is not offered`;

describe('codes', () => {
  test('those that the control has, and none that it lacks', () => {
    expect(labels(`${HEAD}G8|`)).toEqual(['G8', 'G80', 'G81', 'G82', 'G83', 'G84', 'G85', 'G86', 'G87', 'G88', 'G89']);
    expect(labels(`${HEAD}G|`)).toContain('G73');
    expect(labels(`${HEAD}G|`, under('rs274ngc'))).not.toContain('G73');
    expect(labels(`${HEAD}M|`)).toContain('M98');
    expect(labels(`${HEAD}M|`, under('rs274ngc'))).not.toContain('M98');
    const own = { ...PROFILES.iso, extraM: [80] };
    expect(labels(`${HEAD}M8|`, { ...DEFAULT_CONFIGURATION, profile: own })).toEqual([]);
    expect(labels(`${HEAD}M|`, { ...DEFAULT_CONFIGURATION, profile: own })).toContain('M80');
  });

  test('what is typed stands first where it is no code, so that Enter leaves it', () => {
    expect(offered(`${HEAD}G5|`)[0]).toMatchObject({ label: 'G5', isAsTyped: true });
  });

  test.each(['G1', 'G01', 'G54', 'G59.1', 'M3', 'M30', 'G0', 'G7777'])(
    'nothing behind %s, which is complete',
    (code) => {
      expect(labels(`${HEAD}${code}|`)).toEqual([]);
    },
  );

  test.each([
    ['G|', 'G1', 'ends G0 rapid'],
    ['G|', 'G0', 'on already'],
    ['G|', 'G91', 'ends G90'],
    ['G|', 'G20', 'ends G21'],
    ['G|', 'G80', 'no cycle is on'],
    ['G|', 'G43', 'for tool 1, ends G49'],
    ['G|', 'G98', 'back to Z10, on already'],
    ['G99 G81 X5. Z-5. R2. F100\nG|', 'G80', 'G81 drill'],
    ['G99 G81 X5. Z-5. R2. F100\nG|', 'G1', 'ends the cycle G81 drill'],
    ['G99 G81 X5. Z-5. R2. F100\nG|', 'G99', 'back to Z2, on already'],
    ['M|', 'M3', 'at 500 rev/min, on already'],
    ['M|', 'M4', 'at 500 rev/min, ends M3'],
    ['T7 M|', 'M6', 'to T7'],
    ['M|', 'M8', ''],
    ['M8\nM|', 'M8', 'on already'],
  ])('%s: %s %s', (text, label, effect) => expect(effectOf(HEAD + text, label)).toBe(effect));
});

/** A feed is given already. */
const CUT = `${HEAD}F150\n`;

describe('arcs', () => {
  test.each([
    // The centre word that is missing, from the end and the other one.
    ['G2 X10. Y10. I10. |', ['J0.']],
    ['G2 X10. Y10. I10. J|', ['J0.']],
    ['G3 X6. Y0. J4. I|', ['I3.']],
    ['G18 G3 X10. Z20. I10. |', ['K0.']],
    // The end lies so that no other word closes it.
    ['G2 X10. Y0. I3. |', []],
    // Nothing is missing, or nothing is known.
    ['G2 X10. Y10. I10. J0. |', []],
    ['G2 |', []],
    ['G1 X10. Y10. |', []],
  ])('%s', (text, expected) => expect(labels(CUT + text)).toEqual(expected));

  test('without any: the quarter and the half turn, each in both forms', () => {
    expect(offered(`${CUT}G3 X10. Y10. |`).map(({ label, detail, effect }) => [label, detail, effect])).toEqual([
      ['I0. J10.', 'quarter turn', 'radius 10, 90°'],
      ['R10.', 'quarter turn', 'radius 10, 90°'],
      ['I5. J5.', 'half turn', 'radius 7.071, 180°'],
    ]);
    expect(labels(`${CUT}G2 X10. Y10. I|`)).toEqual(['I10. J0.', 'I5. J5.']);
    expect(labels(`${CUT}G2 X10. Y10. R|`)).toEqual(['R10.']);
  });

  test('the arc that goes on from the last cut stands first', () => {
    const [first] = offered(`${CUT}G1 X20. F100\nG3 X28. Y16. |`);
    expect(first).toMatchObject({ label: 'I0. J10.', detail: 'goes on from the last cut without a corner' });
    expect(labels(`${CUT}G1 X20. F100\nG2 X28. Y16. |`)[0]).not.toBe('I0. J10.');
  });

  test.each(['Y-1', 'Y-10', 'Y-10.', 'Y+10.', 'Y 10.', 'Y - 10.', 'Y[5+5]', 'Y-[5+5]', 'Y#2', 'Y-.5', 'Y10'])(
    'nothing is offered right behind a word that has its number: %s',
    (word) => {
      expect(labels(`#2=10.\n${CUT}G2 X10. ${word}|`)).toEqual([]);
      expect(labels(`#2=10.\n${CUT}G2 X10. ${word} |`)).not.toEqual([]);
      expect(labels(`T1 M6\n#2=10.\n${CUT}G43 ${word}|`)).toEqual([]);
    },
  );

  test('an arc that is a quarter turn and goes on without a corner is offered once', () => {
    const items = offered(`${CUT}G1 X20. F100\nG3 X30. Y10. |`);
    expect(items.map(({ label }) => label)).toEqual(['I0. J10.', 'R10.', 'I5. J5.']);
    expect(items[0].detail).toBe('goes on from the last cut without a corner');
  });

  test('an arc by R is written by its centre instead', () => {
    const [item, ...others] = offered(`${CUT}G2 X10. Y10. R10. |`);
    expect(others).toEqual([]);
    expect(item).toMatchObject({ label: 'I10. J0.', removes: [13, 17] });
    expect(labels(`${CUT}G2 X10. Y10. R-10. |`)).toEqual(['I0. J10.']);
    expect(labels(`${CUT}G2 X10. Y10. R1. |`)).toEqual([]);
  });

  test('in incremental coordinates, with centres from zero, in increments and in inches', () => {
    expect(labels('G91 G0 X5. Y5. Z1.\nG90 G0 X5. Y5.\nG91 G2 X10. Y10. I10. |')).toEqual(['J0.']);
    expect(labels(`${CUT}G0 X5. Y5.\nG90.1 G2 X15. Y15. I15. |`)).toEqual(['J5.']);
    expect(labels(`${CUT}G2 X10000 Y10000 I10000 |`, under('iso-macro'))).toEqual(['J0.']);
    expect(labels('G20 G90\nG0 X0. Y0. Z1.\nG2 X.5 Y.5 I.5 |')).toEqual(['J0.']);
    expect(labels(`${CUT}G52 X3. Y2.\nG0 X0. Y0.\nG90.1 G2 X10. Y10. I10. |`)).toEqual(['J0.']);
  });

  test('every word offered closes the arc', () => {
    let random = 7;
    const next = (): number => {
      random = (random * 16807) % 2147483647;
      return random / 2147483647;
    };
    let checked = 0;
    for (let i = 0; i < 200; i++) {
      const number = (): string => `${((next() - 0.5) * 80).toFixed(3)}`;
      const [x, y, letter] = [number(), number(), next() < 0.5 ? 'I' : 'J'];
      const middle = next() < 0.5 ? '' : `${letter}${number()} `;
      const start = `${CUT}G1 X${number()} Y${number()} F100\n${next() < 0.5 ? 'G2' : 'G3'} X${x} Y${y} ${middle}`;
      for (const label of labels(`${start}|`)) {
        const analysis = new Analysis(start + label, DEFAULT_CONFIGURATION);
        analysis.run();
        const wrong = analysis.findings().findings.filter(({ rule }) => rule.startsWith('arc-radius-mismatch'));
        expect(wrong, start + label).toEqual([]);
        checked++;
      }
    }
    expect(checked).toBeGreaterThan(250);
  });
});

describe('cycles', () => {
  const DRILLED = 'G83 X5. Z-12. R2. Q3. F100\nG80\n';

  test.each([
    [`${DRILLED}G83 X20. |`, ['Z-12. R2. Q3.', 'Z-12.', 'R2.', 'Q3.']],
    [`${DRILLED}G83 X20. Q2. |`, ['Z-12. R2.', 'Z-12.', 'R2.']],
    [`${DRILLED}G83 X20. Z|`, ['Z-12. R2. Q3.', 'Z-12.']],
    [`${DRILLED}G91 G83 X20. |`, ['Z-14. R-8. Q3.', 'Z-14.', 'R-8.', 'Q3.']],
    // What still holds is not missing.
    ['G83 X5. Z-12. R2. Q3. F100\nG81 X20. |', []],
    // Positions of an active cycle lack nothing.
    ['G81 X5. Z-12. R2. F100\nX20. |', []],
    // Without a cycle before it the words are not known.
    ['G81 X5. |', []],
    // The tap's feed is its pitch times the speed.
    ['G84 X5. Z-12. R5. |', ['F500']],
    ['G84 X5. Z-12. R5. F|', ['F500']],
    ['G95 G84 X5. Z-12. R5. F|', ['F1']],
    ['S800 G84 X5. Z-12. R5. F|', ['F800']],
  ])('%s', (text, expected) => expect(labels(HEAD + text)).toEqual(expected));

  test('the tool’s own last cycle goes before a later one of another tool', () => {
    const text = `${HEAD}${DRILLED}T2 M6 (DRILL D3)\nG81 X5. Z-1. R3. F80\nG80\nT1 M6 (TAP M6X1)\nG81 X9. |`;
    expect(labels(text)[0]).toBe('Z-12. R2.');
    expect(effectOf(text, 'R2.')).toBe('as in G83, line 5');
    expect(effectOf(`${HEAD}G83 X5. Z-12. R2. Q3. F100\nX9.\nM8\nG80\nG83 X20. |`, 'R2.')).toBe('as in G83, line 5');
  });

  test('a wait is written as the control reads it', () => {
    const text = `${HEAD}G82 X5. Z-2. R2. P1500 F100\nG80\nG82 X9. |`;
    expect(labels(text, under('iso-macro'))).toContain('P1500');
    expect(labels(text.replace('P1500', 'P1.5'))).toContain('P1.5');
  });
});

describe('speed and feed', () => {
  const tools = [{ number: 4, kind: 'end-mill', diameter: 10, teeth: 4, cuttingMaterial: 'carbide' }] as const;

  test('of a cutter in the material in force', () => {
    const configuration = {
      ...DEFAULT_CONFIGURATION,
      tools,
      material: { name: 'steel', cuttingSpeed: { carbide: [100, 160] as const } },
    };
    // 120 m/min on 10 mm.
    expect(labels('G21 G90 G94\nT4 M6\nS|', configuration)).toEqual(['S3820']);
    const [feed] = offered('G21 G90 G94\nT4 M6\nS3820 M3\nG1 X10. F|', configuration);
    // 3820 × 4 × √(0.015 × 0.25).
    expect(feed).toMatchObject({ label: 'F930', detail: 'feed: 0.061 a tooth, 4 teeth' });
  });

  test('none where material, tool or speed are not known', () => {
    expect(labels('G21 G90\nT4 M6\nS|', { ...DEFAULT_CONFIGURATION, tools })).toEqual([]);
    expect(labels('G21 G90\nT4 M6\nG1 X10. F|', { ...DEFAULT_CONFIGURATION, tools })).toEqual([]);
    expect(labels('G21 G90\nG1 X10. F|')).toEqual([]);
  });
});

describe('numbers', () => {
  const tools = [{ number: 7, kind: 'drill', description: 'Long drill' }] as const;

  test('tools of the table and of the program', () => {
    expect(offered(`${HEAD}T|`, { ...DEFAULT_CONFIGURATION, tools })).toMatchObject([
      { label: 'T1', detail: 'TAP M6X1', effect: 'in the spindle' },
      { label: 'T7', detail: 'Long drill', effect: '' },
    ]);
  });

  test('registers of the tool in the spindle', () => {
    expect(labels(`${HEAD}G43 Z5. |`)).toEqual(['H1']);
    expect(labels(`${HEAD}G43 Z5. H|`)).toEqual(['H1']);
    expect(labels(`${HEAD}G1 G41 X5. F100 D|`)).toEqual(['D1']);
    expect(labels(`${HEAD}G1 X5. F100 D|`)).toEqual([]);
    const row = [{ number: 1, kind: 'tap', lengthOffset: 31 }] as const;
    expect(labels(`${HEAD}G43 Z5. H|`, { ...DEFAULT_CONFIGURATION, tools: row })).toEqual(['H31']);
  });

  test('programs that may be called, with their remarks', () => {
    const text = `O1 (MAIN)\n${HEAD}M98 P|\nM30\nO100 (ROW OF SLOTS)\nX1.\nM99\nO200\n(PIN)\nM99\n`;
    expect(offered(text)).toMatchObject([
      { label: 'P100', detail: 'ROW OF SLOTS' },
      { label: 'P200', detail: 'PIN' },
    ]);
    expect(labels(text.replace('M98 P|', 'G65 |'))).toEqual(['P100', 'P200']);
    expect(labels(text.replace('M98 P|', 'G4 P|'))).toEqual([]);
  });

  test('blocks that GOTO may lead to, those behind it first', () => {
    const text = `${HEAD}N5 X1.\nIF [#1 EQ 2] GOTO |\nN10 X2.\nN20 M30\n`;
    expect(labels(text)).toEqual(['10', '20', '5']);
    expect(labels(text, under('rs274ngc'))).toEqual([]);
  });

  test('a jump, a condition or a loop that begins is no block to be generated; other words are', () => {
    const blocks = (line: string, configuration = DEFAULT_CONFIGURATION) =>
      completionsAt(new Analysis(line, configuration), configuration, 0, line.length, true).items.length;
    for (const word of ['GO', 'GOT', 'goto', 'N5 GOTO', 'IF', 'WH', 'while']) expect(blocks(word), word).toBe(0);
    for (const word of ['', 'po', 'tap', 'END', 'N5 fa', 'go-on']) expect(blocks(word), word).toBeGreaterThan(10);
    expect(blocks('GOTO', under('rs274ngc'))).toBeGreaterThan(10);
    expect(labels(`${HEAD}N5 X1.\nN7 GOTO |\nN10 X2.`)).toEqual(['10', '5']);
    expect(labels(`${HEAD}N5 X1.\nN7 GOTO|\nN10 X2.`)).toEqual([]);
  });

  test('a sequence number may be a whole block: behind it blocks are offered after a blank only', () => {
    const count = (text: string): number =>
      completionsAt(new Analysis(text), DEFAULT_CONFIGURATION, 0, text.length, true).items.length;
    for (const text of ['N5', 'N10', ' n100']) expect(count(text), text).toBe(0);
    for (const text of ['', 'N5 ', 'N5 ta', 'N5ta']) expect(count(text), text).toBeGreaterThan(10);
  });

  test('within a loop END closes it, and the end of a program is not offered', () => {
    const isOffered = (text: string, line: number, configuration = DEFAULT_CONFIGURATION): boolean => {
      const analysis = new Analysis(text, configuration);
      analysis.run();
      const { length } = analysis.lineText(line);
      const { items } = completionsAt(analysis, configuration, line, length, true);
      return items.some(({ label }) => label === 'end');
    };
    const loop = '#1=0\nWHILE [#1 LT 2] DO1\n#1=#1+1\n';
    for (const word of ['EN', 'END', 'end', 'N5 END']) {
      expect(isOffered(`${loop}${word}`, 3)).toBe(false);
      expect(isOffered(`${loop}${word}\nEND1\nM30`, 3)).toBe(false);
      expect(isOffered(`${loop}END1\n${word}`, 4)).toBe(true);
      expect(isOffered(`${word}\n${loop}END1`, 0)).toBe(true);
      expect(isOffered(`G1 X1.\n${word}`, 1)).toBe(true);
      expect(isOffered(`${loop}${word}`, 3, under('rs274ngc'))).toBe(true);
    }
  });

  test('variables with what they hold', () => {
    const text = `${HEAD}#101=4.5\n#<depth>=-3.\n#3=#1\nG1 X[#|`;
    expect(offered(text).map(({ label, detail }) => [label, detail])).toEqual([
      ['#101', 'holds 4.5'],
      ['#<depth>', 'holds -3'],
    ]);
    expect(labels(text.replace('#|', '#1|'))).toEqual([]);
    expect(labels(text.replace('#|', '#<de|'))).toContain('#<depth>');
  });
});

test.each([
  'G1 X1|',
  'G1 X10.|',
  'G2 X10. Y10. I10. J5|',
  'G43 H1|',
  'T1|',
  'M98 P1|',
  'GOTO 1|',
  '(G|)',
  '; G|',
  '// G|',
  'G1 X[1. + G|',
  'G|5',
  'GOTO|',
])('nothing is offered at %s', (text) => expect(labels(HEAD + text)).toEqual([]));
