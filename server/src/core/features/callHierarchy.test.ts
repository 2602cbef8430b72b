import { describe, expect, it } from 'vitest';
import { executed } from '../../../../tests/harness/path.ts';
import { Analysis } from '../checks/analysis.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { DEFAULT_PROFILE } from '../machine/profile.ts';
import { calledBy, callersIn, programMeantAt } from './callHierarchy.ts';
import { fileLinks } from './links.ts';
import { allOf, textOfAnalysis, textOfFile } from './referencesText.ts';
import { fitsQuery, symbolsOf } from './workspaceSymbols.ts';

const PROGRAM = `%
O1 (PLATE)
T3 M6 (DRILL D5)
M98 P20 L3
G65 P30 X1.
M98 P20
T4 M6
M30
O20
(HOLES)
G91 X1.
M98 P30
M99
O30
X2.
M99
`;
const text = textOfFile(PROGRAM, DEFAULT_PROFILE);

describe('calls', () => {
  it('by whom: each program with its calls', () => {
    const callers = allOf(callersIn(text, 30));
    expect(callers.map(({ program, calls }) => [program.number, calls])).toEqual([
      [1, [{ line: 4, column: 0, endColumn: 7 }]],
      [20, [{ line: 11, column: 0, endColumn: 7 }]],
    ]);
    expect(allOf(callersIn(text, 1))).toEqual([]);
  });

  it('of whom, in their order', () => {
    expect(allOf(calledBy(text, 2)).map(({ number, calls }) => [number, calls.length])).toEqual([
      [20, 2],
      [30, 1],
    ]);
    expect(allOf(calledBy(text, 15))).toEqual([]);
  });

  it('the program that is called at a place, else the one that the line belongs to', () => {
    const analysis = executed(PROGRAM);
    const of = (line: number, column: number) =>
      programMeantAt(analysis, DEFAULT_CONFIGURATION, textOfAnalysis(analysis, DEFAULT_PROFILE), line, column);
    expect(of(3, 5)).toEqual({
      number: 20,
      remark: 'HOLES',
      firstLine: 8,
      lastLine: 12,
      head: { line: 8, column: 0, endColumn: 3 },
    });
    expect(of(3, 9)).toMatchObject({ number: 20 });
    expect(of(4, 9)).toMatchObject({ number: 1, remark: 'PLATE', head: { line: 1 } });
    expect(of(14, 0)).toMatchObject({ number: 30, remark: '', lastLine: 16 });
  });
});

it('links lead to programs in other files only', () => {
  const host = { lookup: (number: number) => (number === 77 ? { text: 'O77\nM99' } : ('absent' as const)) };
  const analysis = new Analysis('M98 P77 L2\nM98 P20\nM98 P5\n(M98 P77)\nM30\nO20\nM99\n', DEFAULT_CONFIGURATION, host);
  analysis.run();
  expect(allOf(fileLinks(analysis, DEFAULT_CONFIGURATION))).toEqual([
    { line: 0, column: 0, endColumn: 7, program: 77 },
  ]);
});

describe('symbols', () => {
  it('are programs with their remarks and tools with theirs', () => {
    expect(allOf(symbolsOf(text)).map(({ kind, name, line }) => `${line} ${kind} ${name}`)).toEqual([
      '1 program O1 PLATE',
      '2 tool T3 DRILL D5',
      '6 tool T4',
      '8 program O20 HOLES',
      '13 program O30',
    ]);
  });

  it('a tool once a program, the one that was called before by profile', () => {
    const names = (source: string, toolChange: 'same-block' | 'called-before') =>
      allOf(symbolsOf(textOfFile(source, { ...DEFAULT_PROFILE, toolChange }))).map(({ name }) => name);
    expect(names('T1 M6\nT2 M6\nT1 M6\n', 'same-block')).toEqual(['T1', 'T2']);
    expect(names('T1\nM6 T2\nM6 T3\n', 'called-before')).toEqual(['T1', 'T2']);
    expect(names('(T1 M6)\nM6\nT5\n', 'same-block')).toEqual([]);
  });

  it('are found by letters in their order', () => {
    expect(fitsQuery('T3 DRILL D5', 'drill')).toBe(true);
    expect(fitsQuery('T3 DRILL D5', 't3 d5')).toBe(true);
    expect(fitsQuery('T3 DRILL D5', '5d')).toBe(false);
    expect(fitsQuery('O1', '')).toBe(true);
  });
});
