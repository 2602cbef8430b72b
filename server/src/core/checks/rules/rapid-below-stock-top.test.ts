import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const HEAD = 'G21 G90 G54\nT1 M6 (END MILL D10)\nS1000 M3\nG0 X-20. Y-20.\nG43 H1 Z30.\n';
const stock = { offset: 'G54', shape: 'box', min: [0, 0, -20], max: [80, 50, 0] } as const;
const configuration = { stock };
/** Two slots with an island between them. */
const twoSlots = (remark: string): string => `G21 G90 G54
T1 M6 ${remark}
S1000 M3
G0 X10. Y10.
G43 H1 Z2.
G1 Z-5. F100
Y40.
G0 Z2.
X70.
G1 Z-5.
Y10.
G0 Z2.
`;

testRule('rapid-below-stock-top', {
  quiet: [
    { program: `${HEAD}Z-5.\nX-3.\nY70.\nM30` },
    { program: `${HEAD}Z-5.\nX-5.\nY70.\nM30`, configuration },
    { program: `${HEAD}X-3.\nZ1.\nY70.\nM30`, configuration },
    // The diameter is not known.
    { program: 'G21 G90 G54\nT1 M6\nG0 X-3. Y-20.\nG43 H1 Z-5.\nY70.\nM30', configuration },
    // Cut at feed along the same edge before.
    { program: `${HEAD}Z-5.\nX-3.\nG1 Y70. F100\nG0 Y-20.\nM30`, configuration },
    // In its own slot.
    { program: `${twoSlots('(END MILL D10)')}Z-4.\nY40.\nG0 Z2.\nM30`, configuration },
    // A face mill may be as large as it likes; nothing stands where a cutter without a diameter may have been.
    { program: `${twoSlots('(FACE MILL)')}Z-4.\nX10.\nM30`, configuration },
    { program: `${twoSlots('(ROUGHING)')}Z-4.\nX50.\nM30`, configuration },
    // A drill's outside is not flat.
    { program: `${twoSlots('(DRILL D10)')}X14.\nZ-5.\nM30`, configuration },
    // Through the middle is told by the other rule.
    { program: `${HEAD}Z-5.\nG0 X40. Y70.\nM30`, configuration },
  ],
  reports: [
    {
      // The outside reaches into the island, by the remark.
      configuration,
      program: `${twoSlots('(END MILL D10)')}X67. Y25.
Z-4.
^^^^
M30`,
      findings: [
        { message: 'side', says: ['tool 1, diameter 10,', '4 deep', 'Z0 at least', 'more than 5 away from the blank'] },
      ],
    },
    {
      // It stands unless the cutter was larger than most.
      configuration: { stock: { ...stock, max: [140, 50, 0] } },
      program: `${twoSlots('(ROUGHING)').replace('X70.', 'X130.')}Z-4.
X10.
^^^^
M30`,
      findings: [{ message: 'unsure', says: ['Z-4', 'stand to Z0', 'how far tool 1 cut'] }],
    },
    {
      configuration,
      program: `${HEAD}Z-5.
X-3.
G0 Y70.
^^^^^^^
M30`,
      findings: [{ message: 'beside', says: ['Z-5', 'tool 1, diameter 10,', 'more than 5 away from the blank'] }],
    },
    {
      configuration: { stock, tools: [{ number: 7, kind: 'face-mill', diameter: 50 }] },
      program: `
G21 G90 G54
T7 M6
G0 X-20. Y20.
G43 H7 Z5.
Z-1.
^^^^
G1 X100. F500
M30`,
      findings: [{ message: 'beside', says: ['tool 7, diameter 50,', 'more than 25 away'] }],
    },
  ],
});
