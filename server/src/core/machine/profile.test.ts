/**
 * Every field of a control profile changes what comes out: the same small program under different values of one field.
 * `cases` names every field by its type, so that a new field without a case does not compile; the last test holds it to
 * the presets too. What each value must give follows from the field's own words in `profile.ts`.
 */
import { describe, expect, test } from 'vitest';
import { executed, path } from '../../../../tests/harness/path.ts';
import { tracedMoves } from '../features/trace.ts';
import type { Configuration } from './configuration.ts';
import { Mode } from './modes.ts';
import { type ControlProfile, PROFILES } from './profile.ts';
import { PROFILE_SCHEMA } from './profileSchema.ts';

/** A profile's differences from `iso`. */
type Fields = Partial<ControlProfile>;

/** One field: what is seen under each of its values. */
interface Case<Field extends keyof ControlProfile> {
  readonly see: (profile: { readonly base: string } & Fields) => unknown;
  /** Values, with what must be seen; no two alike. */
  readonly values: readonly (readonly [value: ControlProfile[Field], seen: unknown])[];
}

type Profile = { readonly base: string } & Fields;

const round = (value: number): number | null => (Number.isNaN(value) ? null : Math.round(value * 1e6) / 1e6 + 0);

const last = (program: string) => (profile: Profile) => {
  const analysis = executed(program, profile);
  return analysis.stateAfter(analysis.lineCount - 1);
};
/** X Y Z at the end, null unknown. */
const end = (program: string) => (profile: Profile) => [...last(program)(profile).position.subarray(0, 3)].map(round);
/** A mode at the end. */
const mode = (program: string, field: number) => (profile: Profile) => round(last(program)(profile).modes[field]);
/** A variable at the end. */
const variable = (program: string, name: number) => (profile: Profile) => last(program)(profile).variables.get(name);
/** The moves, `tests/harness/path.ts`. */
const moves = (program: string, configuration?: Partial<Configuration>) => (profile: Profile) =>
  path(program, profile, configuration);
/** Codes of the findings that begin so, each with its severity. */
const findings = (program: string, only: string) => (profile: Profile) =>
  executed(program, profile)
    .findings()
    .findings.filter(({ rule }) => rule.startsWith(only))
    .map(({ rule, severity }) => `${rule} ${severity}`);
/** A mode that the first move runs under. */
const modeOfMove = (program: string, field: number) => (profile: Profile) => {
  const analysis = executed(program, profile);
  return analysis.modePool.at(analysis.chunks[0].segments[0].moves.modes[0], field);
};

const cases: { readonly [Field in Exclude<keyof ControlProfile, 'name' | 'start'>]: Case<Field> } = {
  decimalPoint: {
    see: end('G0 X10 Y10. Z0'),
    values: [
      ['whole-unit', [10, 10, 0]],
      ['increment', [0.01, 10, 0]],
    ],
  },
  dwell: {
    see: moves('G4 P2.\nG4 P60\nG4 P5'),
    values: [
      [
        'seconds',
        [
          ['dwell', 2],
          ['dwell', 60],
          ['dwell', 5],
        ],
      ],
      [
        'point-decides',
        [
          ['dwell', 2],
          ['dwell', 0.06],
          ['dwell', 5],
        ],
      ],
      [
        'milliseconds',
        [
          ['dwell', 0.002],
          ['dwell', 0.06],
          ['dwell', 0.005],
        ],
      ],
    ],
  },
  order: {
    see: modeOfMove('S100 M3\nG1 X1 F100 M5', Mode.spindle),
    values: [
      ['report', 5],
      ['iso', 3],
    ],
  },
  cyclesAreMotion: {
    see: findings('G0 X0 Y0 Z5\nG1 G81 X1 Z-1 R1 F100', 'modal-conflict'),
    values: [
      [true, ['modal-conflict warning']],
      [false, []],
    ],
  },
  groupConflict: {
    see: findings('G0 G1 X1 F100', 'modal-conflict'),
    values: [
      ['error', ['modal-conflict error']],
      ['last-holds', ['modal-conflict warning']],
    ],
  },
  radiusAndCentre: {
    see: findings('G0 X0 Y0\nG2 X10 Y0 R5 I5 J0 F100', 'arc-centre-and-radius'),
    values: [
      ['error', ['arc-centre-and-radius error']],
      ['radius-holds', ['arc-centre-and-radius warning']],
    ],
  },
  arcTolerance: {
    // In mm the end is 0.05 too far, in inch 0.001, and in the last the last place is 0.1.
    see: (profile) =>
      [
        'G21 G0 X0 Y0\nG2 X10.05 Y0 I5 J0',
        'G20 G0 X0 Y0\nG2 X10.001 Y0 I5 J0',
        'G21 G0 X0 Y0\nG2 X10.003 Y0 I5 J0',
      ].map((program) => findings(`${program} F100`, 'arc-radius')(profile).length),
    values: [
      [{ mm: 0.1, inch: 0.1, places: 0 }, [0, 0, 0]],
      [{ mm: 0.01, inch: 0.1, places: 0 }, [1, 0, 0]],
      [{ mm: 0.1, inch: 0.0001, places: 0 }, [0, 1, 0]],
      [{ mm: 0.001, inch: 0.0001, places: 0 }, [1, 1, 1]],
      [{ mm: 0.001, inch: 0.0001, places: 3.1 }, [1, 0, 0]],
    ],
  },
  turns: {
    see: (profile) =>
      ['P3', 'L3'].map((word) => {
        const arc = path(`G0 X0 Y0\nG3 X10 Y0 I5 J0 ${word} F100`, profile).at(-1);
        return arc?.[0] === 'arc' ? arc[7] : null;
      }),
    values: [
      [{ letter: 'P', counts: 'turns' }, [180 + 720, 180]],
      [{ letter: 'P', counts: 'extra' }, [180 + 1080, 180]],
      [{ letter: 'L', counts: 'turns' }, [180, 180 + 720]],
      [{ letter: 'none', counts: 'turns' }, [180, 180]],
    ],
  },
  repeats: {
    see: (profile) =>
      ['L', 'K'].map((letter) => end(`G0 X0 Y0 Z5\nG91 G81 X1 Z-1 R-4 ${letter}3 F100\nG80`)(profile)[0]),
    values: [
      ['L', [3, 1]],
      ['K', [1, 3]],
      ['both', [3, 3]],
    ],
  },
  peckRetract: {
    see: (profile) => moves('G0 X0 Y0 Z5\nG73 Z-2 R0 Q1 F100')(profile).some((move) => move[3] === -0.75),
    values: [
      [0.25, true],
      [0.5, false],
    ],
  },
  cycle87: {
    // Up at feed from below, or down at feed from above. K is a place here, no repeats.
    see: (profile) =>
      moves('S100 M3\nG0 X0 Y0 Z50\nG87 X10 Z-30 R2 I-3 K-25 F100')({ ...profile, repeats: 'L' }).find(
        ([kind]) => kind === 'line',
      )?.[3],
    values: [
      ['back-boring', -25],
      ['manual-out', -30],
    ],
  },
  helixFeed: {
    see: (profile) => {
      const helix = { helixFeed: profile.helixFeed ?? 'space' };
      const move = [...tracedMoves(executed('G0 X0 Y0 Z0\nG2 X0 Y0 I5 J0 Z-20 F600', profile), helix)].at(-1);
      return round(move?.seconds ?? Number.NaN);
    },
    values: [
      ['space', round((Math.hypot(10 * Math.PI, 20) / 600) * 60)],
      ['plane', round(((10 * Math.PI) / 600) * 60)],
    ],
  },
  feedKeptAcrossModes: {
    see: mode('G94 F100\nG95', Mode.feed),
    values: [
      [true, 100],
      [false, -1],
    ],
  },
  leadWord: {
    see: mode('G0 X0 Y0 Z0\nS100 M3\nG33 Z-5 F2 K1.5', Mode.threadLead),
    values: [
      ['F', 2],
      ['K', 1.5],
    ],
  },
  colon: {
    see: (profile) => executed(':12', profile).readBlock(0).programNumber,
    values: [
      ['program-number', 12],
      ['alignment', -1],
    ],
  },
  toolChange: {
    see: mode('T1\nM6 T3', Mode.tool),
    values: [
      ['same-block', 3],
      ['called-before', 1],
    ],
  },
  unsetVariable: {
    see: end('G0 X1 Y1 Z1\nG0 X#120 Y2'),
    values: [
      ['empty', [1, 2, 1]],
      ['zero', [0, 2, 1]],
    ],
  },
  assignments: {
    see: end('#101=3\n#101=5 G0 X#101 Y0 Z0'),
    values: [
      ['after-block', [3, 0, 0]],
      ['at-once', [5, 0, 0]],
    ],
  },
  rounding: {
    see: (profile) => [variable('#101=FIX[0-2.5]', 101)(profile), variable('#101=FUP[0-2.5]', 101)(profile)],
    values: [
      ['floor-ceiling', [-3, -2]],
      ['toward-zero', [-2, -3]],
    ],
  },
  andBinds: {
    see: variable('#101=[1 + 1 AND 0]', 101),
    values: [
      ['product', 1],
      ['sum', 0],
    ],
  },
  flow: {
    see: findings('G66 P9000 A1.\nM30', 'unknown-code'),
    values: [
      [true, []],
      [false, ['unknown-code warning']],
    ],
  },
  subprogramRepeats: {
    // Where X stands at the main program's end.
    see: (profile) =>
      ['M98 P0031000', 'M98 P1000 L2'].map((call) => {
        const program = `O1\nG0 X0 Y0 Z0\n${call}\nM30\nO1000\nG91 X1\nG90\nM99\n`;
        return round(executed(program, profile).stateAfter(3).position[0]);
      }),
    values: [
      ['L', [0, 2]],
      ['first-digits', [3, 2]],
    ],
  },
  localCallCode: {
    see: (profile) => {
      const program = 'O1\nG0 X0 Y0 Z0\nM197 P100\nM30\nN100 G0 X7\nM99\n';
      return round(executed(program, profile).stateAfter(3).position[0]);
    },
    values: [
      [197, 7],
      [-1, 0],
    ],
  },
  systemVariables: {
    // Where X stands; and the number of the work offset in force.
    see: (profile) => [variable('G0 X4 Y0 Z0\n#101=#5041', 101)(profile), variable('G55\n#101=#5220', 101)(profile)],
    values: [
      ['macro', [4, Number.NaN]],
      ['report', [Number.NaN, 2]],
    ],
  },
  feedBeforeUnits: {
    see: mode('G21 G1 X1 F10 G20', Mode.feed),
    values: [
      [true, 10],
      [false, 254],
    ],
  },
  units7071: {
    see: (profile) => end('G70 G0 X1 Y0 Z0')(profile)[0],
    values: [
      [true, 25.4],
      [false, 1],
    ],
  },
  mirrorCodes: {
    see: (profile) => end('G51.1 X0\nG0 X5 Y0 Z0')(profile)[0],
    values: [
      [true, -5],
      [false, 5],
    ],
  },
  offsetRegister: {
    // How far left of X0 the centre runs with 2 in register 1.
    see: (profile) => moves('G10 L12 P1 R2\nG0 X0 Y-10 Z0\nG41 D1 G1 X0 Y0 F100\nY20\nG40 X-10')(profile)[1]?.[1],
    values: [
      ['radius', -2],
      ['diameter', -1],
    ],
  },
  outsideCorner: {
    see: (profile) =>
      moves('T1 M6 (4MM END MILL)\nG0 X0 Y-10 Z0\nG41 D1 G1 X0 Y0 F100\nY20\nX20\nY0\nG40 Y-10 X30')(profile).some(
        ([kind]) => kind === 'arc',
      ),
    values: [
      ['arc', true],
      ['extended-lines', false],
    ],
  },
  synchronisedTappingCode: {
    see: findings('M29 S100\nM30', 'unknown-code'),
    values: [
      [29, []],
      [-1, ['unknown-code hint']],
    ],
  },
  lengthRegisterFree: {
    see: findings(
      'G17 G21 G40 G49 G80 G90 G54\nT1 M6\nS1000 M3\nG0 X0 Y0\nG43 H2 Z5\nG1 Z-1 F100\nM30',
      'length-offset-other',
    ),
    values: [
      [true, []],
      [false, ['length-offset-other-tool warning']],
    ],
  },
  withoutCodes: {
    see: findings('G0 X1\nG4 P1', 'unknown-code'),
    values: [
      [[], []],
      [[40], ['unknown-code warning']],
    ],
  },
  extraG: {
    see: findings('G123', 'unknown-code'),
    values: [
      [[], ['unknown-code warning']],
      [[1230], []],
    ],
  },
  extraM: {
    see: findings('M123\nM30', 'unknown-code'),
    values: [
      [[], ['unknown-code hint']],
      [[123], []],
    ],
  },
  remarks: {
    see: (profile) =>
      ['G0 X1 (Q)', 'G0 X1 ;Q', '//Q'].map((program) => findings(`${program}\nM30`, 'bad-word')(profile).length > 0),
    values: [
      [{ brackets: true, semicolon: true, slashes: true }, [false, false, false]],
      [{ brackets: false, semicolon: true, slashes: true }, [true, false, false]],
      [{ brackets: true, semicolon: false, slashes: true }, [false, true, false]],
      [{ brackets: true, semicolon: true, slashes: false }, [false, false, true]],
    ],
  },
  characterSet: {
    see: findings('G0 X1 (é)\nM30', 'character-set'),
    values: [
      ['ascii', ['character-set warning']],
      ['ascii-outside-remarks', []],
    ],
  },
  lineLength: {
    see: findings('G0 X1 (A REMARK OF SOME LENGTH)\nM30', 'block-too-long'),
    values: [
      [256, []],
      [20, ['block-too-long warning']],
    ],
  },
  sequenceNumberMax: {
    see: (profile) =>
      executed('N12345 G0 X1\nM30', profile)
        .findings()
        .findings.some(({ message }) => message.includes('9999')),
    values: [
      [9999, true],
      [99_999, false],
    ],
  },
  maxM: {
    see: findings('M3 S100 M8\nM30', 'block-too-long'),
    values: [
      [4, []],
      [1, ['block-too-long warning']],
    ],
  },
  maxG: {
    see: findings('G0 G90 G17 X1\nM30', 'block-too-long'),
    values: [
      [12, []],
      [2, ['block-too-long warning']],
    ],
  },
};

/** The modes at power-on, one by one. */
const startCases: {
  readonly [Field in keyof ControlProfile['start']]: {
    readonly see: (profile: Profile) => unknown;
    readonly values: readonly (readonly [number, unknown])[];
  };
} = {
  motion: {
    see: mode('X1', Mode.motion),
    values: [
      [-1, -1],
      [0, 0],
      [10, 10],
    ],
  },
  plane: {
    see: (profile) => [...tracedMoves(executed('G0 X0 Y0 Z0', profile))].at(-1)?.plane,
    values: [
      [17, 'XY'],
      [18, 'ZX'],
      [19, 'YZ'],
    ],
  },
  distance: {
    see: end('G0 X1 Y1 Z1\nX1'),
    values: [
      [90, [1, 1, 1]],
      [91, [null, null, null]],
    ],
  },
  units: {
    see: end('G0 X1 Y0 Z0'),
    values: [
      [21, [1, 0, 0]],
      [20, [25.4, 0, 0]],
    ],
  },
  feedMode: {
    see: mode('F1', Mode.feedMode),
    values: [
      [93, 93],
      [94, 94],
      [95, 95],
    ],
  },
  retract: {
    see: (profile) => end('G0 X0 Y0 Z9\nG81 X1 Z-1 R1 F100')(profile)[2],
    values: [
      [98, 9],
      [99, 1],
    ],
  },
  offset: {
    see: (profile) => [...tracedMoves(executed('G0 X0 Y0 Z0', profile))].at(-1)?.offset,
    values: [
      [540, 'G54'],
      [570, 'G57'],
      [593, 'G59.3'],
    ],
  },
};

/** All fields, with those of the modes at power-on one by one. */
const all = [
  ...Object.entries(cases).map(([field, { see, values }]) => ({
    field,
    values: values as readonly (readonly [unknown, unknown])[],
    see: (value: unknown) => (see as (profile: Profile) => unknown)({ base: 'iso', [field]: value } as Profile),
  })),
  ...Object.entries(startCases).map(([field, { see, values }]) => ({
    field: `start.${field}`,
    values: values as readonly (readonly [unknown, unknown])[],
    see: (value: unknown) => see({ base: 'iso', start: { ...PROFILES.iso.start, [field]: value } }),
  })),
];

describe.each(all)('$field', ({ values, see }) => {
  test.each(values)('%j', (value, seen) => {
    expect(see(value)).toEqual(seen);
  });

  test('makes a difference', () => {
    const seen = new Set(values.map(([value]) => JSON.stringify(see(value))));
    expect(seen.size).toBeGreaterThan(1);
  });
});

test('every field of every preset has its case', () => {
  const known = [...Object.keys(cases), 'name', 'start'].sort();
  for (const preset of Object.values(PROFILES)) {
    expect(Object.keys(preset).sort()).toEqual(known);
    expect(Object.keys(preset.start).sort()).toEqual(Object.keys(startCases).sort());
  }
});

test('every value of a choice is tried', () => {
  const fields = PROFILE_SCHEMA.properties ?? {};
  const tried = (values: readonly (readonly [unknown, unknown])[]) => values.map(([value]) => value);
  for (const [field, { values }] of Object.entries(cases)) {
    for (const choice of fields[field].enum ?? []) expect(tried(values), field).toContain(choice);
  }
});
