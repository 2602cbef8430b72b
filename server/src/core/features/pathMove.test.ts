import { describe, expect, it } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import type { SubprogramHost } from '../checks/flow/host.ts';
import { isPathMove, type PathMove } from '../geometry/pathRequestMove.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { hoverAt } from './hover.ts';
import { type PathMoveQuestion, pathMoveAt } from './pathMove.ts';

const HEAD = 'G17 G21 G90 G94 G54\nT1 M6\nS1000 M3\nG0 X0. Y0. Z0.\n';
/** Line of the first block behind the head. */
const FIRST = 4;

const run = (text: string, host?: SubprogramHost): Analysis => {
  const analysis = new Analysis(HEAD + text, DEFAULT_CONFIGURATION, host);
  analysis.run();
  return analysis;
};

const ask = (analysis: Analysis, question: PathMoveQuestion): PathMove | null => {
  const move = pathMoveAt(analysis, DEFAULT_CONFIGURATION, question);
  if (move !== null && !isPathMove(JSON.parse(JSON.stringify(move)))) throw new Error('not a move');
  return move;
};

const LOOP = '#1=0\nWHILE [#1 LT 4] DO1\n#1=#1+1\nG1 X#1 F100.\nX0. Y#1\nEND1\nG0 Z9.\nM30\n';

describe('the move of a line', () => {
  it('has the numbers of a straight cut', () => {
    expect(ask(run('G1 X30. Y40. F600\n'), { line: FIRST })).toMatchObject({
      line: FIRST,
      kind: 'line',
      from: [0, 0, 0],
      to: [30, 40, 0],
      length: 50,
      feed: 600,
      speed: 1000,
      tool: 1,
      seconds: 5,
      offset: 'G54',
      plane: 'XY',
      pass: 1,
      passes: 1,
      part: 1,
      parts: 1,
    });
  });

  it('has centre, radius and sweep of an arc', () => {
    const move = ask(run('G3 X10. Y10. I0. J10. F600\n'), { line: FIRST });
    expect(move).toMatchObject({ kind: 'arc', centre: [0, 10, 0], plane: 'XY' });
    expect(move?.radius).toBeCloseTo(10, 9);
    expect(move?.sweep).toBeCloseTo(90, 9);
    expect(move?.length).toBeCloseTo(5 * Math.PI, 9);
  });

  it('says null for what is not known', () => {
    const move = pathMoveAt(new Ran('G1 X10.\n').analysis, DEFAULT_CONFIGURATION, { line: 0 });
    expect(move).toMatchObject({
      from: [null, null, null],
      to: [10, null, null],
      feed: null,
      seconds: null,
      tool: null,
    });
  });

  it('is none where the line moves nothing', () => {
    const analysis = run('M8\nG1 X0. F100\n(REMARK)\n');
    for (const line of [0, 1, FIRST, FIRST + 1, FIRST + 2, FIRST + 3]) expect(ask(analysis, { line })).toBeNull();
  });

  it('is a wait, too', () => {
    expect(ask(run('G4 P1.5\n'), { line: FIRST })).toMatchObject({
      kind: 'dwell',
      length: 0,
      seconds: 1.5,
      feed: null,
    });
  });

  it('has the words that hover shows for the block, plainly', () => {
    const analysis = run('G3 X10. Y10. I0. J10. F600\n');
    const shown = hoverAt(analysis, DEFAULT_CONFIGURATION, FIRST, 2)?.markdown.split('\n\n') ?? [];
    const { text } = ask(analysis, { line: FIRST })!;
    expect(text.length).toBeGreaterThan(1);
    const plain = shown.map((line) => line.replaceAll('\\', ''));
    expect(plain.filter((line) => text.includes(line))).toEqual(text);
  });
});

describe('of several moves', () => {
  it('the one nearest to the place is meant', () => {
    const analysis = run('G0 Z5.\nG81 X10. Z-10. R2. F100\n');
    const line = FIRST + 1;
    expect(ask(analysis, { line })).toMatchObject({ kind: 'rapid', from: [0, 0, 5], part: 1 });
    expect(ask(analysis, { line, at: [10, 0.1, -9] })).toMatchObject({ kind: 'line', to: [10, 0, -10] });
    const out = ask(analysis, { line, at: [10, 0, 4.5] });
    expect(out?.part).toBeLessThanOrEqual(out?.parts ?? 0);
    expect(out?.parts).toBeGreaterThanOrEqual(4);
  });

  it('an arc is as near as it is drawn, also a helix of several turns', () => {
    const analysis = run('G1 X5. F100\nG3 X5. Y0. Z-9. I-5. J0. P3\nG1 X9. Z-6.\n');
    expect(ask(analysis, { line: FIRST + 1, at: [5, 0, -6] })).toMatchObject({ kind: 'arc' });
  });
});

describe('passes', () => {
  const line = FIRST + 3;

  it.each([1, 2, 3, 4])('are told by the place: %i', (pass) => {
    const found = ask(run(LOOP), { line, at: [pass, pass - 1, 0] });
    expect(found).toMatchObject({ pass, passes: 4, to: [pass, pass - 1, 0] });
  });

  it('can be asked for: the first, or any further one', () => {
    const analysis = run(LOOP);
    expect(ask(analysis, { line, pass: 1, at: [4, 3, 0] })).toMatchObject({ pass: 1 });
    expect(ask(analysis, { line, pass: 2, at: [0.5, 0, 0] })).toMatchObject({ pass: 2 });
    expect(ask(analysis, { line: FIRST + 6, pass: 2 })).toBeNull();
  });

  it('stand one behind the other where nothing else moves', () => {
    const analysis = run('#1=0\nWHILE [#1 LT 4] DO1\n#1=#1+1\nG1 X#1 F100.\nEND1\nM30\n');
    expect(ask(analysis, { line, at: [2.5, 0, 0] })).toMatchObject({ pass: 3, passes: 4, part: 1, parts: 1 });
  });

  it('count to the call where the moves are those of a subprogram’s own file', () => {
    const host: SubprogramHost = { lookup: () => ({ text: 'O7\nG91 G1 X1. F100\nY1.\nG90\nM99\n' }) };
    const analysis = run('M98 P7 L2\nG0 Z9.\nM30\n', host);
    expect(ask(analysis, { line: FIRST, at: [2, 2, 0] })).toMatchObject({ pass: 1, passes: 1, part: 4, parts: 4 });
    expect(ask(analysis, { line: FIRST, pass: 2 })).toMatchObject({ part: 1 });
  });
});

/** A program without the head. */
class Ran {
  readonly analysis: Analysis;

  constructor(text: string) {
    this.analysis = new Analysis(text);
    this.analysis.run();
  }
}

describe('the move of a subprogram in a file of its own', () => {
  const file = { text: 'O100\nG1 X10. F100.\n(REMARK)\nY10.\nM98 P200\nM99\nO200\nG1 X0.\nM99\n' };
  const host: SubprogramHost = { lookup: (number) => (number === 100 ? file : 'absent') };
  const analysis = run('M98 P100\nG0 Z5.\nM98 P100 L2\nM30\n', host);
  const at = (line: number, place: [number, number, number]) => ask(analysis, { line, pass: 2, at: place })?.origin;

  it('says the line in that file, and which program of it', () => {
    expect(at(FIRST, [5, 0, 0])).toEqual({ program: 100, file: 100, line: 1 });
    expect(at(FIRST, [10, 5, 0])).toEqual({ program: 100, file: 100, line: 3 });
    expect(at(FIRST, [5, 10, 0])).toEqual({ program: 200, file: 100, line: 7 });
    expect(at(FIRST + 2, [5, 10, 5])).toEqual({ program: 100, file: 100, line: 1 });
  });

  it('says nothing of the kind for the program’s own lines', () => {
    expect(ask(analysis, { line: FIRST + 1 })?.origin).toBeUndefined();
  });
});
