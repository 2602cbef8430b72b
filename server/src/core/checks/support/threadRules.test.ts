/** Rules about threads together: right programs of many hands are quiet, and an edit gives the same as a fresh run. */
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../../../tests/bench/program.ts';
import { findingsOf } from '../../../../../tests/harness/ruleTester.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../../machine/configuration.ts';
import { PROFILES } from '../../machine/profile.ts';
import { Analysis } from '../analysis.ts';

const IS_OF_THREADS = /^(tap-|feed-override-unlocked|single-point-lead)/;

const RIGHT: Readonly<Record<string, readonly [program: string, configuration?: Partial<Configuration>]>> = {
  'sparse, lower case': [
    'g21g90g54\nm6t1(drill 5)\ns2500m3\ng0x10y10\ng43h1z20\ng83z-18r2q4f200\nx30\ng80\nm6t2(tap m6)\ns400m3\ng0x10y10\ng43h2z20\ng84z-15r4f400\nx30\ng80\ng0z50\nm30',
  ],
  'the synchronised code, and G95': [
    'G21 G90 G54\nT1 M6 (DRILL D6.8)\nS2000 M3\nG43 H1 Z20.\nG81 X5. Y5. Z-24. R2. F220\nG80\nT2 M6 (M8X1.25 TAP)\nG95\nM29 S500\nG43 H2 Z20.\nG84 X5. Y5. Z-20. R4. F1.25\nG80\nG94\nM30',
  ],
  'G98 and G99 over a clamp, dwell at the bottom': [
    'G21 G90 G54\nT1 M6 (DRILL D4.2)\nS3000 M3\nG43 H1 Z30.\nG99 G82 X0 Y0 Z-16. R2. P0.2 F250\nG98 X20.\nG99 X60.\nG80\nT2 M6 (TAP M5X0.8)\nS500 M3\nG43 H2 Z30.\nG99 G84 X0 Y0 Z-12. R5. P500 F400\nG98 X20.\nG99 X60.\nG80\nM30',
  ],
  'a pattern called for every tool': [
    'G21 G90 G54\nT1 M6 (SPOT DRILL D10 90DEG)\nS2500 M3\nG43 H1 Z30.\nG81 R2. Z-3.3 F200 L0\nM98 P100\nT2 M6 (DRILL D5)\nS2500 M3\nG43 H2 Z30.\nG83 R2. Z-20. Q5. F200 L0\nM98 P100\nT3 M6 (TAP M6X1)\nS500 M3\nG43 H3 Z30.\nG84 R5. Z-15. F500 L0\nM98 P100\nM30\nO100\nX10. Y10.\nX40.\nY40.\nX10.\nG80\nM99',
  ],
  'a bolt circle in a loop': [
    'G21 G90 G54\n#9=0\nWHILE [#9 LT 2] DO1\n#9=#9+1\nIF [#9 EQ 2] GOTO 5\nT1 M6 (DRILL D8.5)\nS1500 M3\nG43 H1 Z30.\n#1=0\nWHILE [#1 LT 6] DO2\nG83 X[30.*COS[60.*#1]] Y[30.*SIN[60.*#1]] Z-25. R2. Q6. F180\n#1=#1+1\nEND2\nG80\nGOTO 6\nN5\nT2 M6 (TAP M10)\nS300 M3\nG43 H2 Z30.\n#1=0\nWHILE [#1 LT 6] DO2\nG84 X[30.*COS[60.*#1]] Y[30.*SIN[60.*#1]] Z-20. R5. F450\n#1=#1+1\nEND2\nG80\nN6\nEND1\nM30',
  ],
  'two parts under two offsets': [
    'G21 G90\nT1 M6 (DRILL D5)\nS2500 M3\nG54 G43 H1 Z30.\nG81 X10. Y10. Z-18. R2. F200\nG80\nG0 Z30.\nG55\nG81 X10. Y10. Z-18. R2. F200\nG80\nG0 Z30.\nT2 M6 (TAP M6X1)\nS500 M3\nG54 G43 H2 Z30.\nG84 X10. Y10. Z-15. R5. F500\nG80\nG0 Z30.\nG55\nG84 X10. Y10. Z-15. R5. F500\nG80\nM30',
  ],
  'drilled in work coordinates, tapped under a shift': [
    'G21 G90 G54\nT1 M6 (DRILL D5)\nS2500 M3\nG43 H1 Z30.\nG81 X30. Y10. Z-18. R2. F200\nG80\nT2 M6 (TAP M6X1)\nS500 M3\nG43 H2 Z30.\nG52 X20. Y0\nG84 X10. Y10. Z-15. R5. F500\nG80\nG52 X0 Y0\nM30',
  ],
  'inch, through a plate': [
    'G20 G90 G54\nT1 M6 (#7 DRILL)\nS3000 M3\nG43 H1 Z1.\nG83 X1. Y1. Z-.75 R.1 Q.15 F12.\nG80\nT2 M6 (1/4-20 TAP THRU)\nS500 M3\nG43 H2 Z1.\nG84 X1. Y1. Z-.85 R.2 F25.\nG80\nM30',
  ],
  'small increments': [
    'G21 G90 G54\nT1 M6 (DRILL D5)\nS2500 M3\nG43 H1 Z30.\nG83 X10. Y10. Z-18. R2. Q5000 F200\nG80\nT2 M6 (TAP M6X1)\nS500 M3\nG43 H2 Z30.\nG84 X10. Y10. Z-15. R5. F500\nG80\nM30',
    { profile: PROFILES['iso-macro'] },
  ],
  'a self-reversing head by hand': [
    'G21 G90 G54\nT1 M6 (DRILL D5)\nS2500 M3\nG43 H1 Z30.\nG81 X10. Y10. Z-20. R2. F200\nG80\nT4 M6\nS500 M3\nG0 X10. Y10.\nG43 H4 Z30.\nM49\nZ5.\nG1 Z-12. F498\nZ6. F870\nM48\nG0 Z30.\nM30',
    {
      tools: [
        {
          number: 4,
          kind: 'tap',
          thread: 'M6',
          holder: { kind: 'reversing', ratio: 1.75, selfFeed: 3, freeUp: 5, float: 2 },
        },
      ],
    },
  ],
  'a floating holder by hand, with M5 and M4': [
    'G21 G90 G54\nT4 M6\nS300 M3\nG0 X10. Y10.\nG43 H4 Z30.\nM49\nZ5.\nG1 Z-12. F290\nM5\nM4\nG1 Z8. F300\nM48\nM5\nG0 Z30.\nM30',
    { tools: [{ number: 4, kind: 'tap', thread: 'M6', holder: { kind: 'float', float: 6 } }] },
  ],
  'left hand': [
    'G21 G90 G54\nT1 M6 (DRILL D6.8)\nS2500 M3\nG43 H1 Z30.\nG81 X10. Y10. Z-20. R2. F200\nG80\nT2 M6 (TAP M8 LH)\nS400 M4\nG43 H2 Z30.\nG74 X10. Y10. Z-16. R5. F500\nG80\nM30',
    { holder: 'float' },
  ],
  'M6 and M8 that are no taps': [
    'G21 G90 G54\nT1 M6 (M6)\nS2500 M3\nG43 H1 Z30. M8 (M8)\nG0 X0 Y0\nG1 Z-5. F100\nG1 Z5.\nG0 Z30.\nM30',
  ],
  'a thread mill, an engraver, a reamer': [
    'G21 G90 G54\nT1 M6 (THREAD MILL M20X1.5)\nS2000 M3\nG43 H1 Z30.\nG0 X0 Y0\nZ-20.\nG1 X2. F100\nG3 I-2. Z-18.5\nG1 X0\nG0 Z30.\nT2 M6 (REAMER 8H7)\nS300 M3\nG43 H2 Z30.\nG85 X0 Y0 Z-20. R2. F60\nG80\nM30',
  ],
  'a pipe thread, reamed': [
    'G21 G90 G54\nT1 M6 (DRILL D11.8)\nS800 M3\nG43 H1 Z30.\nG83 X0 Y0 Z-25. R2. Q6. F120\nG80\nT2 M6 (G1/4)\nS200 M3\nG43 H2 Z30.\nG84 X0 Y0 Z-18. R5. F267.368\nG80\nM30',
  ],
};

describe('right programs about threads', () => {
  it.each(Object.entries(RIGHT))('%s', (_name, [program, configuration]) => {
    const told = findingsOf(program, { ...DEFAULT_CONFIGURATION, ...configuration }).filter(({ rule }) =>
      IS_OF_THREADS.test(rule),
    );
    expect(told.map(({ rule, line, message }) => `${line + 1} ${rule}: ${message}`)).toEqual([]);
  });
});

const PIECES = [
  'T1 M6 (DRILL D5)\nS2500 M3\n',
  'T2 M6 (TAP M6X1)\nS500 M3\n',
  'T3 M6\nS400 M3\n',
  'T4 M6\nS500 M4\n',
  'T5 M6 (SINGLE POINT THREAD M20X1.5)\n',
  'G54\n',
  'G55\n',
  'G0 A90.\n',
  'G20\n',
  'G21\n',
  'G81 X10. Y10. Z-15. R2. F200\n',
  'G83 X20. Y10. Z-18. R2. Q4. F200\n',
  'G84 X10. Y10. Z-15. R5. F500\n',
  'G85 X10. Y10. Z-15. R3. F400\n',
  'G89 X20. Y10. Z-15. R5. P0.5 F500\n',
  'G74 X20. Y10. Z-20. R5. F400\n',
  'X20.\n',
  'X30.\n',
  'G80\n',
  'G0 X10. Y10.\n',
  'G0 Z5.\n',
  'G1 Z-14. F500\n',
  'G4 P0.5\n',
  'M4\n',
  'M3\n',
  'G1 Z4. F900\n',
  'Z8. F2000\n',
  'T3 M6\nS400 M3\nG0 X40. Y0 Z5.\nG1 Z-9. F600\nZ8. F2000\n',
  'M49\n',
  'M48\n',
  'S3000\n',
  'G33 Z-10. F1.25\n',
  'G3 I-2. F200\n',
  'G52 X5. Y0\n',
  'G52 X0 Y0\n',
  '(M8 TAP)\n',
  'M98 P8\n',
  '#1=0\nWHILE [#1 LT 3] DO1\nG81 X[#1*10.] Y10. Z-16. R2. F100\n#1=#1+1\nEND1\nG80\n',
  '\n'.repeat(300),
  'M30\n',
];

const CONFIGURATION: Configuration = {
  ...DEFAULT_CONFIGURATION,
  limits: { ...DEFAULT_CONFIGURATION.limits, steps: 4000, depth: 5 },
  stock: { offset: 'G55', shape: 'box', min: [0, 0, -24], max: [60, 40, 0] },
  material: { name: 'steel' },
  machine: { axes: {}, workOffsets: {}, topFeed: 300, topSpeed: 6000, spindleRunUp: 3 },
  tools: [
    {
      number: 3,
      kind: 'tap',
      thread: 'M10',
      holder: { kind: 'reversing', ratio: 1.75, selfFeed: 3, freeUp: 6, float: 1, torque: 5 },
    },
    { number: 4, kind: 'tap', thread: 'M6', holder: { kind: 'float', float: 3 } },
  ],
};

describe('rules about threads', () => {
  it('say the same of an edited program and a fresh one, all of them', () => {
    const random = seeded(4711);
    const piece = (): string => PIECES[Math.floor(random() * PIECES.length)];
    const spoke = new Set<string>();
    for (let program = 0; program < 45; program++) {
      let text = `${Array.from({ length: 40 }, piece).join('')}M30\nO8\nG0 Z5.\nG1 Z-12. F500\nZ6.\nM99\n`;
      const analysis = new Analysis(text, CONFIGURATION);
      analysis.run();
      for (let edit = 0; edit < 8; edit++) {
        const lines = text.split('\n');
        const at = Math.floor(random() * (lines.length - 8));
        const until = Math.min(lines.length - 8, at + Math.floor(random() * 3));
        const replacement = piece();
        const starts = (line: number) => lines.slice(0, line).join('\n').length + (line > 0 ? 1 : 0);
        const [start, end] = [starts(at), starts(until)];
        text = text.slice(0, start) + replacement + text.slice(end);
        analysis.edit(at, 0, until, 0, replacement);
        analysis.run();
        const told = analysis.findings().findings;
        const fresh = findingsOf(text, CONFIGURATION);
        expect(told).toEqual(fresh);
        for (const { rule } of fresh) if (IS_OF_THREADS.test(rule)) spoke.add(rule);
      }
    }
    expect([...spoke].sort()).toEqual([
      'feed-override-unlocked',
      'single-point-lead',
      'tap-cycle-wrong-for-holder',
      'tap-deeper-than-hole',
      'tap-drill-size',
      'tap-dwell-at-bottom',
      'tap-feed-mismatch',
      'tap-in-drilling-cycle',
      'tap-retract-too-fast',
      'tap-retract-too-short',
      'tap-retract-too-slow',
      'tap-speed-high',
      'tap-spindle-direction',
      'tap-torque-over-limit',
      'tap-without-hole',
    ]);
  }, 120_000);
});
