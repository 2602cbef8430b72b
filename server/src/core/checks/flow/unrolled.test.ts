/** Programs with jumps, loops and calls against the same written out by hand: the same moves, but for their lines. */
import { describe, expect, it } from 'vitest';
import { type Configuration, DEFAULT_CONFIGURATION } from '../../machine/configuration.ts';
import { MODE_COUNT, Mode } from '../../machine/modes.ts';
import { Analysis } from '../analysis.ts';
import type { SubprogramHost } from './host.ts';

const HEAD = 'G17 G21 G40 G49 G80 G90 G94 G54\nT1 M6 (END MILL D10)\nS3000 M3\nG0 X0 Y0\nG43 H1 Z5.\nF200\n';
const TAIL = 'G0 Z50.\nM5\nM30\n';

const analysed = (text: string, host?: SubprogramHost, configuration?: Configuration): Analysis => {
  const analysis = new Analysis(text, configuration, host);
  analysis.run();
  return analysis;
};

/** Moves in the order of the run without their lines: kind, end, centre, feed, speed, tool, offset. */
const pathOf = (text: string, host?: SubprogramHost, configuration?: Configuration): unknown[] => {
  const analysis = analysed(text, host, configuration);
  const modes = new Float64Array(MODE_COUNT);
  const path: unknown[] = [];
  for (const { segment } of analysis.passages()) {
    const { moves } = segment;
    for (let i = 0; i < moves.count; i++) {
      analysis.modePool.read(moves.modes[i], modes);
      const ends = Array.from(moves.ends.subarray(i * 3, i * 3 + 3), (value) => Math.round(value * 1e6) / 1e6);
      path.push([moves.kinds[i], ...ends, modes[Mode.feed], modes[Mode.tool], modes[Mode.offset], modes[Mode.spindle]]);
    }
  }
  expect(analysis.stopped).toBeUndefined();
  return path;
};

/** `rolled` must make the moves of `straight`, and those must be some. */
const expectSame = (
  rolled: string,
  straight: string,
  sub = '',
  host?: SubprogramHost,
  configuration?: Configuration,
): void => {
  const path = pathOf(`${HEAD}${rolled}\n${TAIL}${sub}`, host, configuration);
  const wanted = pathOf(`${HEAD}${straight}\n${TAIL}`, undefined, configuration);
  expect(wanted.length).toBeGreaterThan(3);
  expect(path).toEqual(wanted);
};

const lines = (count: number, line: (index: number) => string): string =>
  Array.from({ length: count }, (_, i) => line(i)).join('\n');

describe('loops', () => {
  it('three deep, with arithmetic of all of them', () => {
    const straight: string[] = [];
    for (let a = 1; a <= 2; a++)
      for (let b = a; b <= 3; b++) for (let c = 0; c < 2; c++) straight.push(`G1 X${a * 10 + c} Y${b * 5} Z-${a}.`);
    expectSame(
      `#1=1
WHILE [#1 LE 2] DO1
#2=#1
WHILE [#2 LE 3] DO2
#3=0
WHILE [#3 LT 2] DO3
G1 X[#1*10+#3] Y[#2*5] Z[-#1]
#3=#3+1
END3
#2=#2+1
END2
#1=#1+1
END1`,
      straight.join('\n'),
    );
  });

  it('left by a jump from the innermost, and entered again', () => {
    const straight: string[] = [];
    for (let round = 1; round <= 3; round++) {
      for (let c = 0; c < 5; c++) {
        straight.push(`G1 X${round * 10 + c} Z-1.`);
        if (c === round) break;
      }
      straight.push(`G0 Z${round}.`);
    }
    expectSame(
      `#1=1
N10 #2=0
WHILE [#2 LT 5] DO1
G1 X[#1*10+#2] Z-1.
IF [#2 EQ #1] GOTO 20
#2=#2+1
END1
N20 G0 Z#1
#1=#1+1
IF [#1 LE 3] GOTO 10`,
      straight.join('\n'),
    );
  });

  it('never entered, with what stands behind it', () => {
    expectSame('#1=9\nWHILE [#1 LT 3] DO1\nG1 X99.\nEND1\nG1 X1. Y1. Z-1.', 'G1 X1. Y1. Z-1.');
  });

  it('on one line with other numbers of the same name in two programs', () => {
    expectSame(
      '#1=0\nWHILE[#1LT3]DO1\nM98P100\n#1=#1+1\nEND1',
      lines(3, (i) => `G1 X${i}. Z-1.\nG1 X${i}.5 Z-1.\nG1 X${i + 1}. Z-1.\nG0 Z5.`),
      'O100\n#2=0\nWHILE [#2 LT 3] DO1\nG1 X[#1+#2/2] Z-1.\n#2=#2+1\nEND1\nG0 Z5.\nM99\n',
    );
  });

  it('in increments', () => {
    expectSame(
      'G91\n#1=0\nWHILE [#1 LT 4] DO1\nG1 X2.5 Z-0.5\nG2 X2. I1. J0\n#1=#1+1\nEND1\nG90',
      `G91\n${lines(4, () => 'G1 X2.5 Z-0.5\nG2 X2. I1. J0')}\nG90`,
    );
  });

  it('with a modal cycle left on between the passes', () => {
    expectSame(
      'G81 X0 Y0 Z-3. R2.\n#1=1\nWHILE [#1 LE 3] DO1\nX[#1*10]\n#1=#1+1\nEND1\nG80',
      'G81 X0 Y0 Z-3. R2.\nX10.\nX20.\nX30.\nG80',
    );
  });
});

describe('jumps', () => {
  it('to a computed number', () => {
    expectSame(
      `#100=10
N5 GOTO #100
N10 G1 X1. Z-1.
#100=30
GOTO 5
N20 G1 X2.
GOTO 40
N30 G1 X3.
#100=[#100-10]
GOTO 5
N40 G1 X4.`,
      'G1 X1. Z-1.\nX3.\nX2.\nX4.',
    );
  });

  it('forward over tool changes and offsets', () => {
    expectSame('GOTO 10\nT2 M6\nG55 G1 X99.\nN10 G1 X1. Z-1.\nX2.', 'G1 X1. Z-1.\nX2.');
  });

  it('that are not fulfilled go on', () => {
    expectSame('#1=1\nIF [#1 EQ 2] GOTO 10\nG1 X1. Z-1.\nN10 X2.\nX3.', 'G1 X1. Z-1.\nX2.\nX3.');
  });
});

describe('calls', () => {
  const SLOT = 'O100\nG91 G1 Z-1.\nX10.\nG0 Z1.\nX-10.\nG90\nM99\n';
  const SLOT_TEXT = 'G91 G1 Z-1.\nX10.\nG0 Z1.\nX-10.\nG90';

  it('repeated with L in three offsets', () => {
    expectSame(
      'G54 G0 X1. Y1. Z1.\nM98 P100 L3\nG55 G0 X1. Y1. Z1.\nM98 P100 L2\nG56 G0 X1. Y1. Z1.\nM98 P100',
      `G54 G0 X1. Y1. Z1.\n${lines(3, () => SLOT_TEXT)}\nG55 G0 X1. Y1. Z1.\n${lines(2, () => SLOT_TEXT)}\nG56 G0 X1. Y1. Z1.\n${SLOT_TEXT}`,
      SLOT,
    );
  });

  it('inside calls, and in a loop over them', () => {
    expectSame(
      '#5=0\nWHILE [#5 LT 2] DO1\nM98 P200\n#5=#5+1\nEND1',
      lines(2, (i) => `G0 X${i * 50}. Y0 Z1.\n${SLOT_TEXT}\nG0 Y20.\n${SLOT_TEXT}\n${SLOT_TEXT}`),
      `O200\nG0 X[#5*50] Y0 Z1.\nM98 P100\nG0 Y20.\nM98 P100 L2\nM99\n${SLOT}`,
    );
  });

  it('of itself, to an end', () => {
    expectSame(
      '#101=0\nM98 P300\nG1 Y9.',
      'G1 X0 Z-1.\nX1.\nX2.\nX3.\nG0 Z1.\nZ2.\nZ3.\nZ4.\nG1 Y9.',
      'O300\nG1 X#101 Z-1.\n#101=#101+1\nIF [#101 GT 3] GOTO 10\nM98 P300\nN10 #102=#102+1\nG0 Z#102\nM99\n'.replace(
        'O300\n',
        'O300\nIF [#101 EQ 0] THEN #102=0\n',
      ),
    );
  });

  it('that come back to a block of the caller', () => {
    expectSame(
      'G1 X1. Z-1.\nM98 P400\nG1 X99.\nN50 G1 X2.\nX3.',
      'G1 X1. Z-1.\nY5.\nX2.\nX3.',
      'O400\nG1 Y5.\nM99 P50\nG1 X77.\n',
    );
  });

  it('left in the middle of a loop, which begins anew with the next call', () => {
    expectSame(
      'M98 P500 L2\nG1 Y9.',
      'G1 X0 Z-1.\nX1.\nX0\nX1.\nG1 Y9.',
      'O500\n#1=0\nWHILE [#1 LT 9] DO1\nG1 X#1 Z-1.\nIF [#1 EQ 1] GOTO 10\n#1=#1+1\nEND1\nN10 M99\n',
    );
  });

  it('of a macro: its own variables, the caller’s come back', () => {
    expectSame(
      '#1=7.\n#24=3.\n#101=0\nG65 P600 X20. Y4. Z1.5\nG1 X#1 Y#24\nX#101',
      'G1 X20. Y4. Z-1.5\nX21.\nX7. Y3.\nX5.',
      'O600\n#1=1.\nG1 X#24 Y#25 Z-#26\nX[#24+#1]\n#101=5.\nM99\n',
    );
  });

  it('of a macro inside a macro, with L and several sets of I J K', () => {
    expectSame(
      'G65 P700 L2 I1. J2. K3. I4. J5. K6.\nG1 X0',
      `${lines(2, () => 'G1 X1. Y2. Z3.\nX4. Y5. Z6.\nX9.\nX1. Y4.')}\nG1 X0`,
      'O700\nG1 X#4 Y#5 Z#6\nX#7 Y#8 Z#9\nG65 P710 A9.\nG1 X#4 Y#7\nM99\nO710\nG1 X#1\n#4=99.\nM99\n',
    );
  });

  it('after every move by G66, until G67', () => {
    expectSame(
      'G66 P800 Z2. R1.\nG0 X10.\nG0 X20. Y5.\nG67\nG0 X30.',
      'G0 X10.\nG0 Z1.\nG1 Z-2.\nG0 Z1.\nG0 X20. Y5.\nG0 Z1.\nG1 Z-2.\nG0 Z1.\nG0 X30.',
      'O800\nG0 Z#18\nG1 Z-#26\nG0 Z#18\nM99\n',
    );
  });

  it('after every move of a loop, by G66', () => {
    expectSame(
      '#9=1\nG66 P800 Z2. R1.\nWHILE [#9 LE 3] DO1\nG0 X[#9*10.]\n#9=#9+1\nEND1\nG67\nG0 X40.',
      `${lines(3, (i) => `G0 X${(i + 1) * 10}.\nG0 Z1.\nG1 Z-2.\nG0 Z1.`)}\nG0 X40.`,
      'O800\nG0 Z#18\nG1 Z-#26\nG0 Z#18\nM99\n',
    );
  });

  it('of files, one from the other', () => {
    const files: Record<number, { text: string }> = {
      900: { text: '%\nO900 (ROW)\n#3=0\nN10 M98 P901 L2\n#3=#3+1\nIF [#3 LT 2] GOTO 10\nM99\n%' },
      901: { text: 'G91 G1 X1. Z-0.1\nG90\nM99' },
    };
    expectSame('M98 P900\nG1 Y5.', `${lines(4, () => 'G91 G1 X1. Z-0.1\nG90')}\nG1 Y5.`, '', {
      lookup: (number) => files[number] ?? 'absent',
    });
  });

  it('of one file again and again through a loop across many lines', () => {
    const filler = lines(600, (i) => `G1 X${i % 7}.`);
    expectSame(
      `#1=0\nWHILE [#1 LT 3] DO1\n${filler}\nM98 P100\n#1=#1+1\nEND1`,
      lines(3, () => `${filler}\n${SLOT_TEXT}`),
      SLOT,
    );
  });

  it('with M30 inside end everything', () => {
    const path = pathOf(`${HEAD}M98 P100\nG1 X99.\nM30\nO100\nG1 X1. Z-1.\nM30\n`);
    expect(path).toEqual(pathOf(`${HEAD}G1 X1. Z-1.\nM30\n`));
  });
});

describe('conditions', () => {
  it('with THEN set a value or leave it', () => {
    expectSame(
      '#1=1\nIF [#1 EQ 1] THEN #2=5.\nIF [#1 EQ 2] THEN #2=6.\nG1 X#2 Z-1.\nIF[[#1EQ1]AND[#2GT4]]THEN#3=#2*2\nG1 X#3\nY1.',
      'G1 X5. Z-1.\nG1 X10.\nY1.',
    );
  });

  it('that ask whether a variable holds something', () => {
    expectSame('IF [#7 EQ #0] THEN #7=3.\nIF [#7 NE #0] GOTO 10\nG1 X99.\nN10 G1 X#7 Z-1.\nY2.', 'G1 X3. Z-1.\nY2.');
  });
});

describe('what goes beyond a pass', () => {
  const CONTOUR =
    'G0 X-20. Y-20.\nG1 Z@\nG41 D1 X-10. Y-10.\nY30.\nG2 X0 Y40. I10. J0\nG1 X30.\nY5.\nX20. Y0\nX-15.\nG40 Y-20.\nG0 Z5.';
  const WITH_CUTTER = { ...DEFAULT_CONFIGURATION, tools: [{ number: 1, kind: 'end-mill', diameter: 10 }] } as const;

  it('radius compensation in a loop', () => {
    expectSame(
      `#1=1\nWHILE [#1 LE 3] DO1\n${CONTOUR.replace('@', '-#1')}\n#1=#1+1\nEND1`,
      lines(3, (i) => CONTOUR.replace('@', `-${i + 1}.`)),
      '',
      undefined,
      WITH_CUTTER,
    );
  });

  it('radius compensation left open at the end of each pass', () => {
    const corners = 'X20.\nY20.\nX0\nY0';
    expectSame(
      `G1 Z-1.\nG41 D1 X-10. Y0\n#1=0\nWHILE [#1 LT 4] DO1\nX20.\nY20.\n#1=#1+1\nX0\nY0\nEND1\nG40 X-20. Y-20.`,
      `G1 Z-1.\nG41 D1 X-10. Y0\n${lines(4, () => corners)}\nG40 X-20. Y-20.`,
      '',
      undefined,
      WITH_CUTTER,
    );
  });

  it('radius compensation through a subprogram', () => {
    expectSame(
      'G1 Z-1.\nG41 D1 X-10. Y0\nM98 P100 L2\nG40 X-20. Y-20.',
      `G1 Z-1.\nG41 D1 X-10. Y0\n${lines(2, () => 'X20.\nY20.\nX0\nY0')}\nG40 X-20. Y-20.`,
      'O100\nX20.\nY20.\nX0\nY0\nM99\n',
      undefined,
      WITH_CUTTER,
    );
  });

  it('thousands of passes', () => {
    expectSame(
      '#1=0\nWHILE [#1 LT 3000] DO1\nG1 X[#1/100] Y[[#1 MOD 7]*2] Z-1.\n#1=#1+1\nEND1',
      lines(3000, (i) => `G1 X${i / 100} Y${(i % 7) * 2} Z-1.`),
    );
  });

  it('passes through more lines than are kept together', () => {
    const body = lines(1300, (i) => `G1 X${i % 11}. Y[#1+${i % 3}]`);
    expectSame(
      `#1=0\nWHILE [#1 LT 3] DO1\n${body}\n#1=#1+1\nEND1`,
      lines(3, (pass) => lines(1300, (i) => `G1 X${i % 11}. Y${pass + (i % 3)}`)),
    );
  });
});

describe('what controls do differently', () => {
  const withProfile = (profile: Partial<Configuration['profile']>): Configuration => ({
    ...DEFAULT_CONFIGURATION,
    profile: { ...DEFAULT_CONFIGURATION.profile, ...profile },
  });

  it('a call of a block of the same program', () => {
    expectSame(
      'M97 P500 L2\nG1 Y9.',
      'G91 G1 X1. Z-1.\nG91 G1 X1. Z-1.\nG90 G1 Y9.'.replace('G90 ', 'G90\n'),
      'N500 G91 G1 X1. Z-1.\nG90\nM99\n',
      undefined,
      withProfile({ localCallCode: 97 }),
    );
  });

  it('repeats before the program number', () => {
    expectSame(
      'M98 P0030100\nG1 Y9.',
      `${lines(3, () => 'G91 G1 X1. Z-1.')}\nG90 G1 Y9.`,
      'O0100\nG91 G1 X1. Z-1.\nG90\nM99\n',
      undefined,
      withProfile({ subprogramRepeats: 'first-digits' }),
    );
  });

  it('blocks with a slash are left out, jumps and all', () => {
    expectSame(
      '#1=0\nWHILE [#1 LT 3] DO1\n/IF [#1 EQ 1] GOTO 10\nG1 X#1 Z-1.\n#1=#1+1\nEND1\nN10 Y9.',
      'G1 X0 Z-1.\nX1.\nX2.\nY9.',
      '',
      undefined,
      { ...DEFAULT_CONFIGURATION, blockDelete: 'skip' },
    );
  });
});

describe('names in two programs', () => {
  it('sequence numbers are those of the program that runs', () => {
    expectSame(
      'G1 X1. Z-1.\nM98 P100\nGOTO 10\nG1 X99.\nN10 G1 X3.\nN20 Y1.',
      'G1 X1. Z-1.\nX2.\nX2.5\nX3.\nY1.',
      'O100\n#1=0\nN10 #1=#1+1\nIF [#1 LT 2] GOTO 10\nG1 X#1\nGOTO 20\nG1 X98.\nN20 G1 X2.5\nM99\n',
    );
  });

  it('a plain call inside a macro has the macro’s variables', () => {
    expectSame(
      '#1=50.\nG65 P100 A4.\nG1 X#1',
      'G1 X4. Z-1.\nX5.\nX50.',
      'O100\nM98 P200\nG1 X#1\nM99\nO200\nG1 X#1 Z-1.\n#1=#1+1\nM99\n',
    );
  });

  it('a called program behind the end is not run once more, one that nothing calls is', () => {
    const path = pathOf(`${HEAD}M98 P100\n${TAIL}O100\nG1 X1. Z-1.\nM99\n`);
    expect(path).toEqual(pathOf(`${HEAD}G1 X1. Z-1.\n${TAIL}`));
  });
});
