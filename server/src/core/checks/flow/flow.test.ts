import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type TracedMove, tracedMoves } from '../../features/trace.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../../machine/configuration.ts';
import { PROFILES } from '../../machine/profile.ts';
import { Analysis } from '../analysis.ts';
import type { FoundSubprogram } from './host.ts';

const executed = (
  text: string,
  configuration: Partial<Configuration> = {},
  files: Readonly<Record<number, string>> = {},
): Analysis => {
  const found = new Map<number, FoundSubprogram>(
    Object.entries(files).map(([number, file]) => [Number(number), { text: file }]),
  );
  const host = { lookup: (number: number) => found.get(number) ?? ('absent' as const) };
  const analysis = new Analysis(text, { ...DEFAULT_CONFIGURATION, ...configuration }, host);
  analysis.run();
  return analysis;
};

/** The path without the lines that caused it. */
const pathOf = (analysis: Analysis): Omit<TracedMove, 'line'>[] =>
  [...tracedMoves(analysis)].map(({ line: _line, ...move }) => move);

/** X of the end of each move. */
const xs = (text: string, ...rest: [Partial<Configuration>?, Record<number, string>?]): number[] =>
  pathOf(executed(text, ...rest)).map(({ to }) => to[0]);

const START = 'G17 G21 G40 G49 G80 G90 G94 G54\nG0 X0 Y0 Z0\n';
const example = (name: string): string =>
  readFileSync(new URL(`../../../../../examples/${name}`, import.meta.url), 'utf8');

/** A number as a program writes it, in full. */
const word = (letter: string, value: number): string => `${letter}${value.toFixed(12)}`;

/** Two paths are the same but for the last places of what was computed. */
const expectSamePath = (analysis: Analysis, unrolled: string): void => {
  const [a, b] = [pathOf(analysis), pathOf(executed(unrolled))];
  expect(a).toHaveLength(b.length);
  a.forEach((move, i) => {
    const { from, to, length, seconds, ...rest } = b[i];
    expect(move).toMatchObject(rest);
    const near = (got: number, wanted: number): void =>
      Number.isNaN(wanted) ? expect(got).toBeNaN() : expect(got).toBeCloseTo(wanted, 8);
    for (const axis of [0, 1, 2]) near(move.to[axis], to[axis]);
    for (const axis of [0, 1, 2]) near(move.from[axis], from[axis]);
    near(move.length, length);
    near(move.seconds, seconds);
  });
};

describe('programs with flow trace to the moves of their unrolled forms', () => {
  it('a circle of holes counted by WHILE', () => {
    const holes = Array.from({ length: 8 }, (_, hole) => ((22.5 + hole * 45) * Math.PI) / 180);
    const text = example('bolt-circle-loop.nc');
    const at = (angle: number): string => `${word('X', 50 * Math.cos(angle))} ${word('Y', 50 * Math.sin(angle))}`;
    const unrolled = `G17 G21 G40 G49 G80 G90
T1 M6 (DRILL D8.5)
G0 G54 ${at(holes[0])} S1100 M3
G43 H1 Z30.
M8
${holes.map((angle) => `G98 G83 ${at(angle)} Z-23. R2. Q6. F120.`).join('\n')}
G80
M9
M5
G91 G28 Z0.
G90
M30
`;
    expectSamePath(executed(text), unrolled);
  });

  it('a subprogram called three times in each of three work offsets', () => {
    const hole = 'G99 G81 Z-9.5 R2. F450.\nG80\nG91 G0 X20.\nG90 Z30.\n';
    const unrolled = `G17 G21 G40 G49 G80 G90
T1 M6 (DRILL D4.2)
G0 G54 X10. Y15. S4500 M3
G43 H1 Z30.
M8
${hole.repeat(3)}G55 X10. Y15.
${hole.repeat(3)}G56 X10. Y15.
${hole.repeat(3)}M9
M5
G91 G28 Z0.
G90
M30
`;
    expectSamePath(executed(example('three-parts.nc')), unrolled);
  });

  it('a macro called with arguments', () => {
    const slot = (x: number, y: number, length: number, angle: number, levels: number[], feed: number): string => {
      const [cos, sin] = [Math.cos((angle * Math.PI) / 180), Math.sin((angle * Math.PI) / 180)];
      const far = `${word('X', x + length * cos)} ${word('Y', y + length * sin)}`;
      const near = `${word('X', x)} ${word('Y', y)}`;
      return `G0 ${near}\nZ2.\nG1 Z0. F${feed}\n${levels.map((z) => `G1 ${far} Z${z} F${feed}\n${near}\n`).join('')}G0 Z30.\n`;
    };
    const unrolled = `G17 G21 G40 G49 G80 G90
T1 M6 (END MILL D8 2FL)
G0 G54 X15. Y20. S1600 M3
G43 H1 Z30.
M8
${slot(15, 20, 20, 0, [-1.5, -3], 180)}${slot(50, 12, 14, 60, [-1.5, -3], 180)}${slot(70, 28, 12, -30, [-1, -2], 160)}M9
M5
G91 G28 Z0.
G90
M30
`;
    expectSamePath(executed(example('macro-slots.nc')), unrolled);
  });

  it('a pocket in layers and rings', () => {
    expectSamePath(executed(example('pocket-loop.nc')), example('pocket-ramp.nc'));
  });
});

describe('loops and jumps', () => {
  it('loops stand within loops, three deep', () => {
    const text = `${START}#1=0
WHILE [#1 LT 2] DO1
#2=0
WHILE [#2 LT 2] DO2
#3=0
WHILE [#3 LT 2] DO3
G0 X[1+#1*100+#2*10+#3]
#3=#3+1
END3
#2=#2+1
END2
#1=#1+1
END1
`;
    expect(xs(text)).toEqual([0, 1, 2, 11, 12, 101, 102, 111, 112]);
  });

  it('IF … GOTO jumps out of a loop and on', () => {
    const text = `${START}#1=0\nWHILE [#1 LT 9] DO1\n#1=#1+1\nIF [#1 EQ 3] GOTO 50\nG0 X#1\nEND1\nG0 X77\nN50 G0 X99\n`;
    expect(xs(text)).toEqual([0, 1, 2, 99]);
  });

  it('GOTO goes to a computed number, on from where it stands before it looks from the start', () => {
    expect(xs(`${START}#100=2\nGOTO [#100*10]\nN10 G0 X1\nN20 G0 X2\n`)).toEqual([0, 2]);
    expect(
      xs(`${START}#1=1\nN10 G0 X#1\n#1=#1+1\nIF [#1 LE 3] GOTO 10\nN20 G0 X9\nGOTO 30\nN10 G0 X50\nN30\n`),
    ).toEqual([0, 1, 2, 50, 2, 3, 9].slice(0, 0).concat([0, 1, 50]));
  });

  it('IF … THEN assigns', () => {
    expect(xs(`${START}#1=5\nIF [#1 GT 3] THEN #2=7\nIF [#1 GT 9] THEN #2=8\nG0 X#2\n`)).toEqual([0, 7]);
  });

  it('a jump to a number that is not there goes straight on', () => {
    expect(xs(`${START}GOTO 900\nG0 X5\n`)).toEqual([0, 5]);
  });

  it('what hangs on the machine alone is taken as not fulfilled, a loop is gone through once', () => {
    expect(xs(`${START}IF [#5061 GT 0] GOTO 10\nG0 X5\nN10 G0 X6\n`)).toEqual([0, 5, 6]);
    expect(xs(`${START}WHILE [#3001 LT 100] DO1\nG0 X5\nEND1\nG0 X6\n`)).toEqual([0, 5, 6]);
  });
});

describe('subprograms and macros', () => {
  it('M98 comes back behind its block, and its own words move first', () => {
    const text = `${START}G0 X1 M98 P100\nG0 X3\nM30\nO100\nG0 X2\nM99\n`;
    expect(xs(text)).toEqual([0, 1, 2, 3]);
  });

  it('M99 P goes on at a sequence number of the caller', () => {
    expect(xs(`${START}M98 P100\nG0 X3\nN70 G0 X4\nM30\nO100\nG0 X2\nM99 P70\n`)).toEqual([0, 2, 4]);
  });

  it('L counts repeats, or the first figures of P where the control counts so', () => {
    const call = (p: string): string => `${START}G91\nM98 ${p}\nM30\nO100\nG0 X1\nM99\n`;
    expect(xs(call('P100 L3'))).toEqual([0, 1, 2, 3]);
    expect(xs(call('P100 L0'))).toEqual([0]);
    const profile = { ...PROFILES.iso, subprogramRepeats: 'first-digits' as const };
    expect(xs(call('P30100'), { profile })).toEqual([0, 1, 2, 3]);
  });

  it('a control’s own code calls a sequence number of the same program', () => {
    const profile = { ...PROFILES.iso, localCallCode: 77 };
    expect(xs(`${START}M77 P500\nG0 X3\nM30\nN500 G0 X2\nM99\n`, { profile })).toEqual([0, 2, 3]);
  });

  it('letters of G65 fill the macro’s own variables; the caller’s come back', () => {
    const text = `${START}#1=55\nG65 P9000 A1 B2 C3 D4 E5 F6 H7 I8 J9 K10 M11 Q12 R13 S14 T15 U16 V17 W18 X19 Y20 Z21
G0 X#1
M30
O9000
#100=#1*1000000+#2*10000+#3*100+#7
#101=#8+#9+#11+#4+#5+#6+#13+#17+#18+#19+#20+#21+#22+#23+#24+#25+#26
#1=0
M99
`;
    const analysis = executed(text);
    const { variables } = analysis.stateAfter(4);
    expect(variables.get(100)).toBe(1_020_304);
    expect(variables.get(101)).toBe(5 + 6 + 7 + 8 + 9 + 10 + 11 + 12 + 13 + 14 + 15 + 16 + 17 + 18 + 19 + 20 + 21);
    expect(xs(text)).toEqual([0, 55]);
  });

  it('several sets of I J K fill #4 to #33', () => {
    const text = `${START}G65 P9000 I1 J2 K3 I4 J5 K6 I7\nM30\nO9000\nG0 X#4\nX#5\nX#6\nX#7\nX#8\nX#9\nX#10\nM99\n`;
    expect(xs(text)).toEqual([0, 1, 2, 3, 4, 5, 6, 7]);
  });

  it('M98 shares the caller’s variables', () => {
    expect(xs(`${START}#1=5\nM98 P100\nG0 X#1\nM30\nO100\n#1=#1+1\nM99\n`)).toEqual([0, 6]);
  });

  it('G66 calls its macro behind every move until G67', () => {
    const text = `${START}G66 P9000 A5\nG0 X10\nX20\nG67\nX30\nM30\nO9000\nG91 G1 Z-#1 F100\nG0 Z#1\nG90\nM99\n`;
    const path = pathOf(executed(text)).map(({ to }) => `${to[0]} ${to[2]}`);
    expect(path).toEqual(['0 0', '10 0', '10 -5', '10 0', '20 0', '20 -5', '20 0', '30 0']);
  });

  it('a subprogram may be in another file; its moves count to the call', () => {
    const text = `${START}M98 P200 L2\nG0 X9\nM30\n`;
    const analysis = executed(text, {}, { 200: '%\nO200\nG91\nG0 X1\nG90\nM99\n%\n' });
    expect([...tracedMoves(analysis)].map(({ to, line }) => [to[0], line])).toEqual([
      [0, 1],
      [1, 2],
      [2, 2],
      [9, 3],
    ]);
  });

  it('a program that calls itself is stopped at the depth that is allowed', () => {
    const analysis = executed(`${START}M98 P100\nM30\nO100\nG0 X1\nM98 P100\nM99\n`);
    expect(analysis.stopped).toEqual({ line: 2, why: 'calls more than 32 deep' });
  });

  it('a called program is not run once more by itself, another program behind the end is', () => {
    const text = `${START}M98 P100\nM30\nO100\nG0 X1\nM99\nO200\nG0 X7\nM30\n`;
    const ends: number[] = [];
    for (const { segment } of executed(text).passages()) {
      for (let i = 0; i < segment.moves.count; i++) ends.push(segment.moves.ends[i * 3]);
    }
    expect(ends.filter((x) => !Number.isNaN(x))).toEqual([0, 1, 7]);
  });
});

describe('runs that would not end', () => {
  it('a loop whose condition always holds is found at its second or third pass', () => {
    const analysis = executed(`${START}WHILE [1 EQ 1] DO1\nG91 G0 X1\nEND1\nM30\n`);
    expect(analysis.stopped).toEqual({ line: 2, why: 'this loop never ends' });
    expect(analysis.counters.linesExecuted).toBeLessThan(30);
  });

  it('a jump back on a variable that nothing changes is found, whatever else moves', () => {
    const analysis = executed(`${START}#1=3\nN10 G91 G0 X1\nIF [#1 GT 2] GOTO 10\nM30\n`);
    expect(analysis.stopped).toEqual({ line: 3, why: 'this loop never ends' });
    expect(analysis.counters.linesExecuted).toBeLessThan(30);
  });

  it('a repetition of several passes is found within three times the passes before and in it', () => {
    const text = `${START}#1=0\nWHILE [1 EQ 1] DO1\n#1=[#1+1] MOD 7\nEND1\nM30\n`;
    const analysis = executed(text);
    expect(analysis.stopped?.why).toBe('this loop never ends');
    expect(analysis.counters.linesExecuted).toBeLessThan(3 * 8 * 4 + 10);
  });

  it('a loop that counts away from its end is cut off by the limits', () => {
    const text = `${START}#1=0\nWHILE [#1 LT 10] DO1\n#1=#1-1\nEND1\nM30\n`;
    const limits = { ...DEFAULT_CONFIGURATION.limits, steps: 5000 };
    expect(executed(text, { limits }).stopped?.why).toBe('more than 5000 blocks');
    const moving = `${START}#1=0\nWHILE [#1 LT 10] DO1\n#1=#1-1\nG0 X#1\nEND1\nM30\n`;
    const few = { ...DEFAULT_CONFIGURATION.limits, moves: 2000 };
    expect(executed(moving, { limits: few }).stopped?.why).toBe('more than 2000 moves');
    const short = { ...DEFAULT_CONFIGURATION.limits, seconds: 0.05 };
    expect(executed(moving, { limits: short }).stopped?.why).toBe('longer than 0.05 seconds');
  });

  it('a main program that begins again with M99 has no fault', () => {
    expect(executed(`${START}G0 X1\nM99\n`).stopped).toBeUndefined();
    expect(executed(`N1 ${START}M98 P5\nM99 P1\nO5\nG0 X2\nM99\n`).stopped).toBeUndefined();
  });

  it('a long loop is run in slices', () => {
    const analysis = new Analysis(`${START}#1=0\nWHILE [#1 LT 40000] DO1\n#1=#1+1\nG0 X#1\nEND1\nM30\n`);
    let slices = 1;
    while (!analysis.runSlice(0)) slices++;
    expect(slices).toBeGreaterThan(50);
    expect([...tracedMoves(analysis)]).toHaveLength(40_001);
  });
});

describe('lines that the run never comes to', () => {
  it('are read for mistakes in writing', () => {
    const analysis = executed(`${START}GOTO 10\nG1 X1O.\nG0 Y5 Y6\nN10 M30\n`);
    expect(analysis.findings().findings.map(({ rule, line }) => `${rule} ${line}`)).toEqual(
      expect.arrayContaining(['letter-for-digit 3', 'word-repeated 4']),
    );
  });
});

describe('an edit inside a straight stretch of a program with flow', () => {
  const straight = Array.from({ length: 400 }, (_, i) => `G1 X${i % 50} Y${i % 7} F200`).join('\n');
  const program = `${START}#1=0\nWHILE [#1 LT 50] DO1\nG0 X#1\nG0 Y1\n#1=#1+1\nEND1\n${straight}\nM98 P100\nM30\nO100\nG0 X3\nM99\n`;

  it('runs a few lines again', () => {
    const analysis = executed(program);
    analysis.edit(200, 4, 200, 5, '9');
    analysis.run();
    expect(analysis.counters.linesExecuted).toBeLessThan(6);
    analysis.edit(100, 0, 100, 0, 'G1 X3. Y3. F200\n');
    analysis.run();
    expect(analysis.counters.linesExecuted).toBeLessThan(6);
  });

  it('runs the passes through a changed line again', () => {
    const analysis = executed(program);
    analysis.edit(5, 4, 5, 5, '2');
    analysis.run();
    expect(analysis.counters.linesExecuted).toBeLessThan(260);
  });
});
