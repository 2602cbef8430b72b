import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const stock = { offset: 'G54', shape: 'box', min: [0, 0, -20], max: [80, 50, 0] } as const;
const configuration = { stock };
const head = (tool: string): string => `G21 G90 G54\nT1 M6 (${tool})\nS1000 M3\nG0 X-20. Y10.\nG43 H1 Z30.\n`;
const drilled = (tool: string, depth: string): string => `${head(tool)}G81 X20. Y20. Z${depth} R2. F100\nG80\nM30`;

testRule('through-stock-bottom', {
  quiet: [
    { program: drilled('DRILL D10', '-60.') },
    // Turned, the blank has another bottom.
    { program: drilled('DRILL D10', '-60.').replace('G81', 'A90.\nG81'), configuration },
    // Point of a 118° drill D10: 5 / tan 59° = 3.004; with 2 to get through -25.
    { program: drilled('DRILL D10', '-25.'), configuration },
    { program: drilled('DRILL D10 90DEG', '-27.'), configuration },
    { program: drilled('TAP M6X1', '-25.'), configuration },
    { program: drilled('BALL MILL D12', '-28.'), configuration },
    { program: `${head('END MILL D10')}G1 Z-22. F100\nX100.\nG0 Z2.\nM30`, configuration },
    // Far beside the blank, and a rapid.
    { program: `${head('END MILL D10')}G1 Z-30. F100\nY40.\nG0 Z2.\nM30`, configuration },
    { program: `${head('END MILL D10')}G55\nG1 Z-30. F100\nX100.\nG0 Z2.\nM30`, configuration },
    { program: drilled('', '-24.5'), configuration },
  ],
  reports: [
    {
      configuration,
      program: `${head('DRILL D10')}G99 G81 X20. Y20. Z-21. R2. F100
X40. Z-26.
^^^^^^^^^^
X60.
G80
M30`,
      findings: [
        { message: 'through', says: ['Tool 1 cuts down to Z-26', '6 below', 'Z-20', 'Z-25.004 gets through'] },
      ],
    },
    {
      configuration,
      program: `${head('END MILL D10')}G1 Z-22.5 F100
X100.
^^^^^
G0 Z2.
M30`,
      findings: [{ message: 'through', says: ['2.5 below', 'Z-22 gets through'] }],
    },
    {
      // No remark: the cutter may have a point.
      configuration,
      program: `
G21 G90 G54
G0 X20. Y20.
G43 H1 Z5.
G1 Z-25.5 F100
^^^^^^^^^^^^^^
G0 Z5.
M30`,
      findings: [{ message: 'through', says: ['The tool cuts', 'Z-25 gets through'] }],
    },
  ],
});
