import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const configuration = {
  tools: [
    { number: 1, kind: 'end-mill', diameter: 10, teeth: 3 },
    { number: 2, kind: 'drill', diameter: 5 },
    { number: 3, kind: 'end-mill', diameter: 10 },
    { number: 4, kind: 'face-mill', diameter: 50.8, teeth: 4 },
  ],
  material: { name: 'mild steel' },
} as const;
const { material: _material, ...withoutMaterial } = configuration;
const machine = { axes: {}, workOffsets: {}, topFeed: 5000 };

testRule('chip-load-out-of-range', {
  quiet: [
    { program: 'T1 M6\nS6000 M3\nG1 X1. F800\nM30', configuration },
    // Plunges, arcs and ways out are slower or faster than the cutter's load.
    { program: 'T1 M6\nS6000 M3\nG1 Z-1. F50\nG2 X10. I5. F100\nG1 Z5. F9000\nM30', configuration },
    { program: 'T2 M6\nS4000 M3\nG83 X1. Z-10. R2. Q3. F400\nX2.\nG80\nM30', configuration },
    { program: 'T3 M6\nS6000 M3\nG1 X1. F9\nM30', configuration },
    { program: 'T1 M6\nS6000 M3\nG1 X1. F9\nM30', configuration: withoutMaterial },
    { program: 'T1 M6 (END MILL D10 3FL)\nS6000 M3\nG1 X1. F9\nM30' },
    { program: 'T1 M6\nG1 X1. F9\nM30', configuration },
    { program: 'T2 M6\nS500 M3\nG84 X1. Z-10. R2. F500\nG80\nM30', configuration },
    { program: 'G20\nT4 M6\nS1000 M3\nG1 X1. F30.\nM2', profile: 'rs274ngc', configuration },
  ],
  reports: [
    {
      configuration,
      program: `
T1 M6
S6000 M3
G1 X1. F8000
       ^^^^^
X2.
X3. F800
X4. F80
    ^^^
X5.
M30`,
      findings: [
        // 8000 / (6000 · 3) = 0.4444; 0.25 · 3 · 6000 = 4500.
        {
          message: 'high',
          says: [
            'F8000 at S6000 with 3 teeth is 0.4444 mm a tooth',
            '0.015 to 0.25 mm',
            'diameter of 10 mm',
            'F4500 would',
          ],
        },
        { message: 'low', says: ['0.0044 mm a tooth', 'F270 would'] },
      ],
    },
    {
      // From the remark; the feed of a drill counts two edges.
      configuration: { ...configuration, tools: [] },
      program: `
T2 M6 (DRILL D6)
S2000 M3
G95
G81 X1. Z-5. R2. F0.8
                 ^^^^
G80
M30`,
      findings: [{ message: 'high', says: ['with 2 teeth is 0.4 mm a tooth', 'F0.32 would'] }],
    },
    {
      // A feed that the machine does not reach is the other rule's; the load is told once that is put right.
      profile: 'rs274ngc',
      configuration: { ...configuration, machine },
      program: `
G20
T4 M6
S1000 M3
G1 X1. F300.
X2. F1.
    ^^^
X3. F50.
X4. F100.
    ^^^^^
M2`,
      findings: [
        { message: 'low', says: ['2 inch', '0.0003 inch a tooth', 'F4.8 would'] },
        { message: 'high', says: ['0.025 inch a tooth', 'F94.4 would'] },
      ],
    },
  ],
});
