import { describe, expect, test } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import { foldings } from './folding.ts';
import { type OutlineItem, outlineOf } from './outline.ts';

const PROGRAM = `%
O7 (PLATE)
(FIRST REMARK)
(SECOND REMARK)
G17 G21 G40 G49 G80 G90 G54
T3 M6 (TAP M6X1)
S500 M3
G0 X0. Y0. Z10.
G84 X1. Z-10. R2. F500.
X2.
X3.
G80
T4 M6
G0 X0. Y0. Z10.
G81 X1. Y0. Z-3. R2. F100.
G82 X2. P0.5
X3.
G80
M30
%
`;

function analysed(text: string): Analysis {
  const analysis = new Analysis(text);
  analysis.run();
  return analysis;
}

const told = (item: OutlineItem): unknown => [item.name, item.line, item.endLine, item.children.map(told)];

describe('outline', () => {
  test('program, tool sections, operations with their holes', () => {
    expect(outlineOf(analysed(PROGRAM), []).map(told)).toEqual([
      [
        'O7',
        1,
        20,
        [
          ['T3 TAP M6X1', 5, 11, [['Tap, 3 holes', 8, 10, []]]],
          [
            'T4',
            12,
            20,
            [
              ['Drill, 1 hole', 14, 14, []],
              ['Drill with a dwell at the bottom, 2 holes', 15, 16, []],
            ],
          ],
        ],
      ],
    ]);
  });

  test('a tool of the table has its description', () => {
    const tools = [{ number: 4, kind: 'drill', description: 'Long drill' }] as const;
    expect(outlineOf(analysed(PROGRAM), tools)[0].children[1].name).toBe('T4 Long drill');
  });

  test('loops and calls, holes of all passes counted, called programs behind', () => {
    const text = `O1
T1 M6 (DRILL D5)
#1=0
WHILE [#1 LT 3] DO1
#2=0
 WHILE [#2 LT 2] DO2 (INNER)
G81 X[#1*10] Y[#2*10] Z-3. R2. F100.
#2=#2+1
END2
#1=#1+1
M98 P100
END1
G81 X50. Y50. Z-3. R2.
M98 P200
T2 M6
M30
O100
G80
M99
`;
    const [main, sub] = outlineOf(analysed(text), []);
    expect(told(main)).toEqual([
      'O1',
      0,
      15,
      [
        [
          'T1 DRILL D5',
          1,
          13,
          [
            [
              'Loop [#1 LT 3]',
              3,
              11,
              [
                ['Loop [#2 LT 2]', 5, 8, [['Drill, 6 holes', 6, 6, []]]],
                ['Call of O100', 10, 10, []],
              ],
            ],
            ['Drill, 1 hole', 12, 12, []],
            ['Call of O200', 13, 13, []],
          ],
        ],
        ['T2', 14, 15, []],
      ],
    ]);
    expect(told(sub)).toEqual(['O100', 16, 19, []]);
    const loop = main.children[0].children[0];
    expect([loop.detail, loop.children[0].detail]).toEqual(['3 passes', '6 passes']);
    expect([loop.children[0].column, loop.children[0].endColumn]).toEqual([1, 28]);
  });

  test('a tool changed in a loop stands in the loop', () => {
    const text = '#1=1\nWHILE [#1 LE 2] DO1\nT#1 M6\nG0 X1.\n#1=#1+1\nEND1\nM30\n';
    expect(outlineOf(analysed(text), []).map(told)).toEqual([
      [
        'Loop [#1 LE 2]',
        1,
        5,
        [
          ['T1', 2, 2, []],
          ['T2', 2, 5, []],
        ],
      ],
    ]);
  });

  test('tools stand by themselves where there is no program number; nothing in an empty program', () => {
    expect(outlineOf(analysed('T1 M6\nG0 X1.\nT2 M6\n'), []).map(told)).toEqual([
      ['T1', 0, 1, []],
      ['T2', 2, 3, []],
    ]);
    expect(outlineOf(analysed(''), [])).toEqual([]);
  });
});

describe('folding', () => {
  const foldingsOf = (text: string) => {
    const scan = foldings(analysed(text));
    let steps = 0;
    for (;;) {
      const { done, value } = scan.next();
      if (done) return { steps, spans: value.map(({ line, endLine, kind }) => `${line}-${endLine} ${kind}`) };
      steps++;
    }
  };

  test('tape marks, programs, tools, remarks', () => {
    expect(foldingsOf(PROGRAM).spans).toEqual([
      '0-19 section',
      '1-20 section',
      '2-3 remark',
      '5-11 section',
      '12-20 section',
    ]);
  });

  test('loops', () => {
    const text = '#1=0\nWHILE [#1 LT 3] DO1\n#2=0\nWHILE [#2 LT 2] DO2\n#2=#2+1\nEND2\n#1=#1+1\nEND1\nM30';
    expect(foldingsOf(text).spans).toEqual(['1-7 section', '3-5 section']);
  });

  test('remarks at the end and of every kind', () => {
    expect(foldingsOf('G0 X1.\n; ONE\n// TWO\n(THREE)').spans).toEqual(['1-3 remark']);
    expect(foldingsOf('(ONE) G0 X1.\n(TWO)\nG0 X2.').spans).toEqual([]);
  });

  test('a long program is read in steps', () => {
    expect(foldingsOf('G0 X1.\n'.repeat(9000)).steps).toBe(2);
  });
});
