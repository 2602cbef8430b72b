/** Each thing that the schema cannot see, at its place. */
import { expect, test } from 'vitest';
import { readConfigurationFile } from './configurationFile.ts';

const drill = (more: string) => `{ "tools": [{ "number": 4, "kind": "drill", ${more} }] }`;
const stock = (more: string) => `{ "stock": { ${more} } }`;
const cylinder = '"shape": "cylinder", "diameter": 20, "centre": [0, 0]';

/** The text with the place marked by « »; and the message. */
const cases: [string, string][] = [
  [
    '{ "tools": [{ "number": 4, "kind": "tap", "thread": «"M3.7"» }] }',
    '"M3.7" is no thread that is known here. Write it as M6, M6x0.75, 1/4-20 UNC or G1/4.',
  ],
  [
    '{ "tools": [{ "number": 4, "kind": "tap" }, { "number": «4», "kind": "tap" }] }',
    'Tool 4 is in the table twice; give each number once.',
  ],
  [
    '{ "programs": { "*.nc": { "tools": [{ "number": 7, "kind": "tap" }, { "number": «7», "kind": "tap" }] } } }',
    'Tool 7 is in the table twice; give each number once.',
  ],
  [drill('"diameter": 10, "cornerRadius": «6»'), '"cornerRadius" is 6; it cannot be more than half the diameter (5).'],
  [drill('"diameter": 10, "tip": «12»'), '"tip" is 12; it cannot be more than the diameter (10).'],
  [drill('"length": 60, "fluteLength": «70»'), '"fluteLength" is 70; it cannot be more than the length (60).'],
  ['{ "material": «"plate"» }', '"plate" is not in "materials". Add it there.'],
  ['{ "materials": { "bar": {} }, "material": «"plate"» }', '"plate" is not in "materials". It has "bar".'],
  ['{ "programs": { "*.nc": { "material": «"plate"» } } }', '"plate" is not in "materials". Add it there.'],
  [
    '{ "materials": { "bar": { "cuttingSpeed": { "hss": «[60, 30]» } } } }',
    'The lowest speed (60) stands first, then the highest (30).',
  ],
  [
    stock('"shape": "box", "min": [0, «50», 0], "max": [80, 50, 10]'),
    'Y of "min" is 50, of "max" 50; it must be less.',
  ],
  ['{ "stock": «{ "shape": "box", "min": [0, 0, 0] }» }', 'A box needs "max".'],
  ['{ "stock": «{ "shape": "cylinder" }» }', 'A cylinder needs "diameter", "centre", "top", "bottom".'],
  [stock('"shape": "box", "min": [0, 0, 0], "max": [1, 1, 1], "top": «0»'), 'A box has no "top".'],
  [stock(`${cylinder}, "top": 0, "bottom": «0»`), '"bottom" is 0, "top" 0; the bottom must lie lower.'],
  [
    stock(`"offset": «"G53"», ${cylinder}, "top": 0, "bottom": -1`),
    '"G53" is no work offset. Write G54 to G59, G59.1 to G59.3, or G54.1 P1 and up.',
  ],
  [
    `{ "programs": { "*.nc": { "stock": { ${cylinder}, "top": 0, "bottom": «1» } } } }`,
    '"bottom" is 1, "top" 0; the bottom must lie lower.',
  ],
  ['{ "machine": { "axes": { "Z": { "min": «0», "max": -400 } } } }', '"min" of Z is 0, "max" -400; it must be less.'],
  [
    '{ "machine": { "workOffsets": { "G54.1 P3": {}, «"G54.1P3"»: {} } } }',
    'G54.1 P3 is given twice; only one of them can hold.',
  ],
  ['{ "programs": { «""»: {} } }', 'This pattern is empty. Write "*.nc" for all programs that end so.'],
  ['{ "programs": { «"../a.nc"»: {} } }', 'A pattern goes down from this file’s folder only. Leave . and .. out.'],
];

test.each(cases)('%s', (marked, message) => {
  const start = marked.indexOf('«');
  const text = marked.replace('«', '').replace('»', '');
  const end = marked.indexOf('»') - 1;
  expect(readConfigurationFile(text)).toMatchObject({
    shop: undefined,
    problems: [{ message, line: 0, column: start, endLine: 0, endColumn: end }],
  });
});

test('several mistakes are told together', () => {
  const { problems } = readConfigurationFile(
    '{ "material": "a", "stock": { "shape": "box", "min": [0, 1, 1], "max": [0, 1, 1] } }',
  );
  expect(problems).toHaveLength(4);
});
