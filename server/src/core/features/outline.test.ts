import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { contextAt } from '../blocks/context.ts';
import { generateBlock } from '../blocks/generate.ts';
import { blockByName } from '../blocks/registry.ts';
import { Analysis } from '../checks/analysis.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
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
    expect(outlineOf(analysed(PROGRAM), DEFAULT_CONFIGURATION).map(told)).toEqual([
      [
        'O7',
        1,
        20,
        [
          ['T3 TAP M6X1', 5, 11, [['tapping M6X1, 3 holes', 8, 10, []]]],
          [
            'T4',
            12,
            20,
            [
              ['1 hole to Z-3', 14, 14, []],
              ['2 holes to Z-3', 15, 16, []],
            ],
          ],
        ],
      ],
    ]);
  });

  test('a tool of the table has its description', () => {
    const tools = [{ number: 4, kind: 'drill', description: 'Long drill' }] as const;
    expect(outlineOf(analysed(PROGRAM), { ...DEFAULT_CONFIGURATION, tools })[0].children[1].name).toBe('T4 Long drill');
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
    const [main, sub] = outlineOf(analysed(text), DEFAULT_CONFIGURATION);
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
                ['Loop [#2 LT 2]', 5, 8, [['6 holes Ø5 to Z-3', 6, 6, []]]],
                ['Call of O100', 10, 10, []],
              ],
            ],
            ['1 hole Ø5 to Z-3', 12, 12, []],
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
    expect(outlineOf(analysed(text), DEFAULT_CONFIGURATION).map(told)).toEqual([
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
    expect(outlineOf(analysed('T1 M6\nG0 X1.\nT2 M6\n'), DEFAULT_CONFIGURATION).map(told)).toEqual([
      ['T1', 0, 1, []],
      ['T2', 2, 3, []],
    ]);
    expect(outlineOf(analysed(''), DEFAULT_CONFIGURATION)).toEqual([]);
  });
});

describe('folding', () => {
  const foldingsOf = (text: string) => {
    const analysis = analysed(text);
    const scan = foldings(analysis, outlineOf(analysis, DEFAULT_CONFIGURATION));
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

describe('operations', () => {
  const HEAD = 'G21 G17 G90 G54\nT1 M6 (END MILL D10)\nS3000 M3\nG0 X0. Y0. Z5.\n';
  const named = (text: string, head = HEAD): string[] => {
    const items = outlineOf(analysed(`${head}${text}\nG0 Z50.\nM30\n`), DEFAULT_CONFIGURATION);
    const [tool] = items;
    return tool.children.map(({ name, line, endLine }) => `${line}-${endLine} ${name}`);
  };

  test('cuts are told by depth and length', () => {
    expect(named('G1 Z-3. F200.\nX40.\nY40.\nG0 Z5.')).toEqual(['4-6 cut to Z-3, 88 mm']);
    expect(named('G1 Z-.1 F10.\nX4.\nG0 Z5.', HEAD.replace('G21', 'G20'))).toEqual(['4-5 cut to Z-0.1, 9.1 in']);
  });

  test('levels of one contour are one operation, a place far off is another, and so is what has a title', () => {
    const level = (z: number, x = 0) => `G0 X${x}. Y0.\nG1 Z${z}. F200.\nX${x + 20}.\nY20.\nG0 Z5.\n`;
    expect(named(level(-1) + level(-2))).toEqual(['5-12 cut to Z-2, 93 mm']);
    expect(named(level(-1) + level(-1, 100))).toHaveLength(2);
    expect(named(`${level(-1)}(SECOND SIDE)\n${level(-2)}`)).toHaveLength(2);
  });

  test('a contour beside the cutter says on which side', () => {
    const contour = (side: number) => `G1 Z-5. F200.\nG${side} D1 X20. F300.\nY40.\nX60.\nG40 X80.\nG0 Z5.`;
    expect(named(contour(41))).toEqual(['4-8 contour, cutter left of it (G41), to Z-5']);
    expect(named(contour(42))).toEqual(['4-8 contour, cutter right of it (G42), to Z-5']);
  });

  test('a helix from inside is a bore, one from outside is not, nor is one of a cutter nobody knows', () => {
    const turns = 'G3 X0. Y0. Z-1. I-10.\nG3 Z-2. I-10.\nG3 I-10.\n';
    expect(named(`G0 X-10.\nG1 Z0. F200.\nX0.\n${turns}G1 X-10.\nG0 Z5.`)).toEqual(['5-10 helical bore Ø30 to Z-2']);
    expect(named(`G0 X10.\nG1 Z0. F200.\nX0.\n${turns}G1 X10.\nG0 Z5.`)[0]).toMatch(/ cut to Z-2, /);
    // Begins on the circle: nobody knows from which side.
    expect(named(`G1 Z0. F200.\n${turns}G0 Z5.`)[0]).toMatch(/ cut to Z-2, /);
    // A circle narrower than the cutter leaves nothing standing in it.
    expect(named(`G1 Z0. F200.\n${turns.replaceAll('I-10.', 'I-4.')}G0 Z5.`)).toEqual(['4-7 helical bore Ø18 to Z-2']);
    const unknown = HEAD.replace(' (END MILL D10)', '');
    expect(named(`G0 X-10.\nG1 Z0. F200.\nX0.\n${turns}G1 X-10.\nG0 Z5.`, unknown)[0]).toMatch(/ cut to Z-2, /);
  });

  test('a pocket after a helical way in is no bore', () => {
    const text = 'G1 Z0. F200.\nG3 Z-1. I-4.\nG3 Z-2. I-4.\nG1 X30.\nY30.\nG0 Z5.';
    expect(named(text)[0]).toMatch(/^4-8 cut to Z-2, /);
  });

  test('holes by what is in the spindle', () => {
    const drilled = (remark: string, cycle: string) =>
      named(`${cycle} X1. Z-12. R2. F100.\nX2.\nG80`, HEAD.replace('END MILL D10', remark));
    expect(drilled('DRILL D5', 'G83 Q3.')).toEqual(['4-5 2 holes Ø5 to Z-12']);
    expect(drilled('SPOT DRILL D10 90DEG', 'G81')).toEqual(['4-5 2 holes spotted to Z-12']);
    expect(drilled('REAMER 8MM', 'G85')).toEqual(['4-5 2 holes reamed Ø8 to Z-12']);
    expect(drilled('BORING BAR', 'G86')).toEqual(['4-5 2 holes bored to Z-12']);
    expect(drilled('TAP M8', 'G84')).toEqual(['4-5 tapping M8X1.25, 2 holes']);
    expect(drilled('TOOL', 'G84')).toEqual(['4-5 tapping, pitch 0.033, 2 holes']);
  });

  test('holes of several depths say from where to where', () => {
    expect(named('G81 X1. Z-5. R2. F100.\nX2. Z-12.\nG80')).toEqual(['4-5 2 holes Ø10 Z-5 to Z-12']);
  });

  test('plunges by hand are counted', () => {
    expect(named('G1 Z-3. F100.\nG0 Z5.\nX20.\nG1 Z-4.\nG0 Z5.')).toEqual(['4-7 2 plunges to Z-4']);
  });

  test('a title above an operation and the cycle’s own words are its detail', () => {
    const text = `${HEAD}(SLOT)\nG1 Z-3. F100.\nX40.\nG0 Z5.\nG81 X1. Z-5. R2. F100.\nG80\nM30\n`;
    const [tool] = outlineOf(analysed(text), DEFAULT_CONFIGURATION);
    expect(tool.children.map(({ detail }) => detail)).toEqual(['SLOT', 'drill']);
  });

  test('a run that the end of a chunk parts is one operation', () => {
    const cuts = Array.from({ length: 1200 }, (_, i) => `X${(i % 2) * 10}.`).join('\n');
    expect(named(`G1 Z-3. F200.\n${cuts}\nG0 Z5.`)).toEqual(['4-1204 cut to Z-3, 12 m']);
    const helix = `G0 X-10.\nG1 Z0. F200.\nX0.\nG3 I-10. Z-1.\n${'G91\nG3 I-10. Z-.01\n'.repeat(600)}G90\nG1 X-10.\nG0 Z5.`;
    expect(named(helix)).toEqual(['5-1209 helical bore Ø30 to Z-7']);
  });

  test('very many cuts of one tool are told together', () => {
    const cuts = Array.from(
      { length: 300 },
      (_, i) => `(P${i})\nG0 X${i * 50}.\nG1 Z-1. F100.\nX${i * 50 + 5}.\nG0 Z5.`,
    );
    const items = named(cuts.join('\n'));
    expect(items).toHaveLength(201);
    expect(items[200]).toMatch(/ 100 more cuts$/);
  });

  test('a called program counts all its passes, and is told by its name', () => {
    const text =
      'O1\nT1 M6\nG0 X0. Y0. Z5.\nM98 P5 L3\nM98 P5\nM30\nO5 (SLOT)\nG1 Z-1. F100.\nG91 X10.\nG90\nG0 Z5.\nM99\n';
    const [main, sub] = outlineOf(analysed(text), DEFAULT_CONFIGURATION);
    expect(main.children[0].children.map(({ name, detail }) => [name, detail])).toEqual([
      ['Call of O5', 'SLOT'],
      ['Call of O5', 'SLOT'],
    ]);
    expect([sub.name, sub.detail]).toEqual(['O5', 'SLOT, called 4 times']);
    expect(sub.children.map(({ name }) => name)).toEqual(['cut to Z-1, 64 mm']);
  });

  test('a generated block stands for what is cut in it, and folds by its remarks', () => {
    const head = 'G17 G21 G40 G49 G80 G90 G94 G54\nT1 M6 (END MILL D10 4FL)\nS4000 M3\nG0 X0. Y0.\nG43 H1 Z50.\n';
    const context = contextAt(analysed(`${head}M30\n`), 5, DEFAULT_CONFIGURATION);
    const values = { bore: '18', tool: '10', depth: '6', lead: '1.5', at: '30,20', speed: '4000', feed: '600' };
    const { lines = [], problems } = generateBlock(blockByName('helical-bore')!, values, context);
    expect(problems).toEqual([]);
    expect(lines.length).toBeGreaterThan(5);
    const analysis = analysed(`${head}${lines.join('\n')}\nG1 Z40. F100.\nX90.\nG0 Z50.\nM30\n`);
    const outline = outlineOf(analysis, DEFAULT_CONFIGURATION);
    const last = 4 + lines.length;
    expect(outline[0].children.map(({ kind, name, line, endLine }) => [kind, name, line, endLine])).toEqual([
      ['block', 'helical bore Ø18', 5, last],
      ['operation', expect.stringMatching(/^cut to Z40, /), last + 1, last + 2],
    ]);
    const scan = foldings(analysis, outline);
    let step = scan.next();
    while (!step.done) step = scan.next();
    expect(step.value).toContainEqual({ line: 5, endLine: last, kind: 'section' });
  });

  test('items lie within what they belong to and never over the next one', () => {
    const folder = fileURLToPath(new URL('../../../../', import.meta.url));
    const texts = ['examples', 'tests/corpus/programs'].flatMap((name) =>
      readdirSync(join(folder, name), { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isFile())
        .map((entry) => readFileSync(join(entry.parentPath, entry.name), 'utf8')),
    );
    expect(texts.length).toBeGreaterThan(100);
    const check = (items: readonly OutlineItem[], first: number, last: number): void => {
      let from = first;
      for (const { name, line, endLine, children } of items) {
        expect(name).not.toBe('');
        expect(line, name).toBeGreaterThanOrEqual(from);
        expect(endLine, name).toBeLessThanOrEqual(last);
        expect(endLine, name).toBeGreaterThanOrEqual(line);
        check(children, line, endLine);
        from = Math.max(from, endLine);
      }
    };
    for (const text of texts) {
      const analysis = analysed(text);
      check(outlineOf(analysis, DEFAULT_CONFIGURATION), 0, analysis.lineCount - 1);
    }
  });
});
