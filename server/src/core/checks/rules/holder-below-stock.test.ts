import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const HEAD = 'G21 G90 G54\nT1 M6\nS1000 M3\nG0 X-20. Y10.\nG43 H1 Z30.\n';
const stock = { offset: 'G54', shape: 'box', min: [0, 0, -40], max: [80, 50, 0] } as const;
const tools = [{ number: 1, kind: 'end-mill', diameter: 10, length: 25 }] as const;

testRule('holder-below-stock', {
  quiet: [
    { program: `${HEAD}Z-30.\nG1 X100. F100\nM30`, configuration: { stock } },
    { program: `${HEAD}Z-30.\nG1 X100. F100\nM30`, configuration: { tools } },
    { program: `${HEAD}Z-25.\nG1 X100. F100\nM30`, configuration: { stock, tools } },
    // Turned, the blank has another top.
    { program: `${HEAD}A90.\nZ-30.\nG1 X100. F100\nM30`, configuration: { stock, tools } },
    // Beside the blank the holder has room.
    { program: `${HEAD}Z-30.\nG1 Y60. F100\nM30`, configuration: { stock, tools } },
    { program: `${HEAD}T2 M6\nG43 H2 Z2.\nG1 Z-30. F100\nX100.\nM30`, configuration: { stock, tools } },
  ],
  reports: [
    {
      configuration: { stock, tools },
      program: `${HEAD}Z-26.
G1 X100. F100
G0 Z-30.
G1 X-20.
^^^^^^^^
M30`,
      findings: [{ message: 'holder', says: ['Z-30 tool 1 is 30 below', 'only 25 long', 'at least 5.'] }],
    },
    {
      // At rapid, down a hole.
      configuration: { stock, tools },
      program: `${HEAD}G0 X20.
Z-27.5
^^^^^^
Z2.
M30`,
      findings: [{ message: 'holder', says: ['at least 2.5.'] }],
    },
  ],
});
