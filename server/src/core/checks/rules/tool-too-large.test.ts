import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const DRILLED =
  'G21 G90 G54\nT1 M6 (DRILL D8)\nG0 X20. Y20.\nG43 H1 Z30.\nG81 X20. Y20. Z-16. R2. F200\nG80\nG91 G28 Z0\nG90\n';
const next = (tool: string): string => `T2 M6 (${tool})\nG0 X20. Y20.\nG43 H2 Z30.\n`;

testRule('tool-too-large', {
  quiet: [
    { program: `${DRILLED}${next('THREAD MILL D6')}G0 Z-10.\nG0 Z5.\nM30` },
    { program: `${DRILLED}${next('REAMER D8')}G0 Z-10.\nG0 Z5.\nM30` },
    // At feed: a counterbore, or the next drill.
    { program: `${DRILLED}${next('END MILL D12')}G0 Z2.\nG1 Z-6. F100\nG0 Z5.\nM30` },
    { program: `${DRILLED}${next('DRILL D12')}G81 X20. Y20. Z-20. R2. F100\nG80\nM30` },
    // Beside the hole, and above it.
    { program: `${DRILLED}${next('END MILL D12')}G0 X-20.\nZ-10.\nG0 Z5.\nM30` },
    { program: `${DRILLED}${next('END MILL D12')}G0 Z0.5\nG0 Z5.\nM30` },
    // Diameters that nobody gave.
    { program: `${DRILLED}${next('END MILL')}G0 Z-10.\nG0 Z5.\nM30` },
    {
      program: `G21 G90 G54\nT1 M6\nG0 X20. Y20.\nG43 H1 Z30.\nG81 Z-16. R2. F200\nG80\n${next('END MILL D12')}G0 Z-10.\nG0 Z5.\nM30`,
    },
    // Opened by a milled bore in between.
    {
      program: `${DRILLED}T3 M6 (END MILL D6)\nG0 X20. Y20.\nG43 H3 Z2.\nG1 Z-12. F100\nG1 X24.\nG3 I-4.\nG1 X20.\nG0 Z5.\n${next('END MILL D12')}G0 Z-10.\nG0 Z5.\nM30`,
    },
    // Counterbored wide enough before.
    {
      program: `${DRILLED}T3 M6 (END MILL D14)\nG0 X20. Y20.\nG43 H3 Z30.\nG82 Z-12. R2. P0.5 F100\nG80\n${next('END MILL D12')}G0 Z-10.\nG0 Z5.\nM30`,
    },
    // The other offset is another part.
    { program: `${DRILLED}${next('END MILL D12')}G55\nG0 X20. Y20.\nG0 Z5.\nZ-10.\nG0 Z5.\nM30` },
    // Pointed or round at the end, or tapered: it goes some way in.
    { program: `${DRILLED}${next('CHAMFER MILL D12')}G0 Z-3.\nG0 Z5.\nM30` },
    { program: `${DRILLED}${next('BALL MILL D12')}G0 Z-1.\nG0 Z5.\nM30` },
    { program: `${DRILLED}${next('TAPER MILL D12')}G0 Z-3.\nG0 Z5.\nM30` },
    {
      program: `${DRILLED}${next('END MILL')}G0 Z-1.\nG0 Z5.\nM30`,
      configuration: { tools: [{ number: 2, kind: 'end-mill', diameter: 12, cornerRadius: 2.5 }] },
    },
    // Another program of the file: another part.
    { program: `${DRILLED}M30\nO2\nG21 G90 G54\n${next('END MILL D12')}G0 Z-10.\nG0 Z5.\nM30` },
    // The hole is drilled after it.
    {
      program: `G21 G90 G54\n${next('END MILL D12')}G0 Z5.\nG0 Z-10.\nG0 Z5.\nT1 M6 (DRILL D8)\nG43 H1 Z30.\nG81 X20. Y20. Z-16. R2. F200\nG80\nM30`,
    },
  ],
  reports: [
    {
      program: `${DRILLED}${next('END MILL D12')}G0 Z-10.
^^^^^^^^
G0 Z5.
M30`,
      findings: [{ message: 'hole-smaller', says: ['Tool 2, diameter 12,', 'Z-10', 'hole of diameter 8 that tool 1'] }],
    },
    {
      configuration: {
        tools: [
          { number: 1, kind: 'drill', diameter: 6.8 },
          { number: 2, kind: 'thread-mill', diameter: 7.5 },
        ],
      },
      program: `${DRILLED}${next('')}Z2.
Z-14.
^^^^^
G0 Z5.
M30`,
      findings: [{ message: 'hole-smaller', says: ['7.5', '6.8'] }],
    },
    {
      program: `
G20 G90 G54
T1 M6 (DRILL .25)
G0 X1. Y1.
G43 H1 Z1.
G81 Z-1. R.1 F8.
G80
T2 M6 (END MILL .5)
G43 H2 Z1.
X1. Y1.
Z-.5
^^^^
M30`,
      findings: [{ message: 'hole-smaller', says: ['diameter 0.5,', 'hole of diameter 0.25'] }],
    },
  ],
});
