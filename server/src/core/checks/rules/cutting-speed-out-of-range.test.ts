import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const configuration = {
  tools: [
    { number: 1, kind: 'end-mill', diameter: 10, cuttingMaterial: 'carbide' },
    { number: 2, kind: 'drill', diameter: 5, cuttingMaterial: 'hss' },
    { number: 3, kind: 'end-mill', diameter: 1, cuttingMaterial: 'carbide' },
    { number: 4, kind: 'reamer', diameter: 8, cuttingMaterial: 'hss' },
    { number: 5, kind: 'end-mill', diameter: 12 },
    { number: 6, kind: 'face-mill', diameter: 50.8, cuttingMaterial: 'carbide' },
  ],
  material: { name: 'mild steel', cuttingSpeed: { hss: [20, 30], carbide: [80, 150] } },
  machine: { axes: {}, workOffsets: {}, topSpeed: 8000 },
} as const;
const { material: _material, ...withoutMaterial } = configuration;

testRule('cutting-speed-out-of-range', {
  quiet: [
    // π · 10 · 3500 / 1000 = 110 m/min; π · 5 · 1600 / 1000 = 25 m/min.
    { program: 'T1 M6\nS3500 M3\nM30', configuration },
    { program: 'T2 M6\nM3 S1600\nM30', configuration },
    // 1 mm at the machine's top speed is 25 m/min: it cannot be more.
    { program: 'T3 M6\nS8000 M3\nM30', configuration },
    { program: 'T4 M6\nS200 M3\nM30', configuration },
    { program: 'T5 M6\nS100 M3\nM30', configuration },
    { program: 'T1 M6\nS100 M3\nM30', configuration: withoutMaterial },
    { program: 'T1 M6\nS100 M3\nM30' },
    // S before the tool change, and of a tool that does not turn.
    { program: 'S100\nT1 M6\nS3500 M3\nM5\nS100\nM30', configuration },
    { program: 'G96 S100 M3\nT1 M6\nM30', configuration },
    // Rounded: 150.01 m/min.
    { program: 'T1 M6\nS4775 M3\nM30', configuration },
    { program: 'G20\nT6 M6\nS700 M3\nM2', profile: 'rs274ngc', configuration },
  ],
  reports: [
    {
      configuration,
      program: `
T1 M6
S8000 M3
^^^^^
S500
^^^^
M30`,
      findings: [
        // π · 10 · 8000 / 1000 = 251.3; 150 000 / (π · 10) = 4774.6.
        { message: 'high', says: ['S8000', 'diameter of 10 mm is 251 m/min', '80 to 150', 'mild steel', 'S4774'] },
        { message: 'low', says: ['16 m/min', 'S2547'] },
      ],
    },
    {
      profile: 'rs274ngc',
      configuration,
      program: `
G20
S3000
T6 M6
M3
^^
M2`,
      // π · 50.8 · 3000 / 1000 = 478.8.
      findings: [{ message: 'high', says: ['diameter of 2 in is 479 m/min'] }],
    },
  ],
});
