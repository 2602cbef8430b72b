import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const HEAD = 'G21 G90 G54\nT1 M6 (END MILL D10)\nS1000 M3\nG0 X-20. Y10.\nG43 H1 Z30.\n';
const box = { offset: 'G54', shape: 'box', min: [0, 0, -20], max: [80, 50, 0] } as const;
const configuration = { stock: box };
const cylinder = {
  stock: { offset: 'G54', shape: 'cylinder', diameter: 60, centre: [0, 0], top: 0, bottom: -30 },
} as const;

testRule('rapid-into-stock', {
  quiet: [
    { program: `${HEAD}G0 X10.\nZ-3.\nG0 X40.\nM30` },
    { program: `${HEAD}G0 X10.\nZ2.\nG1 Z-3. F100\nX40.\nG0 Z2.\nM30`, configuration },
    // Beside the blank, and along its edge.
    { program: `${HEAD}Z-5.\nY60.\nX100.\nG0 Z2.\nM30`, configuration },
    { program: `${HEAD}Z-5.\nX0\nY50.\nX-20.\nM30`, configuration },
    // Where it cut before nothing is certain.
    { program: `${HEAD}G0 X10.\nZ2.\nG1 Z-3. F100\nX40.\nG0 X10.\nZ2.\nM30`, configuration },
    // Another offset: where that lies on the blank nobody knows.
    { program: `${HEAD}G55\nG0 X10. Y10.\nZ-3.\nM30`, configuration },
    // Pecks go back down at rapid into their own hole.
    { program: `${HEAD}G83 X10. Y10. Z-15. R2. Q3. F100\nX70. Y40.\nG80\nM30`, configuration },
    // Another program of the file.
    { program: `M30\nO2\n${HEAD}G0 X10.\nZ-3.\nM30`, configuration },
    // Up and out.
    { program: `${HEAD}Z2.\nG1 X40. F100\nZ-5.\nG0 Z30.\nM30`, configuration },
    // Past a round blank, across the corner of its box.
    { program: `${HEAD}X-31. Y0\nZ-5.\nY-15.\nX-23. Y-25.\nM30`, configuration: cylinder },
  ],
  reports: [
    {
      configuration,
      program: `${HEAD}G0 X10.
Z-3.
^^^^
G0 Z2.
M30`,
      findings: [{ message: 'down', says: ['Z-3,', 'Z0,'] }],
    },
    {
      configuration,
      program: `${HEAD}Z-5.
N50 X100. (ACROSS)
    ^^^^^
M30`,
      findings: [{ message: 'through', says: ['79.9 through', 'Z-5'] }],
    },
    {
      // Far from all that was cut: the cutter's box reaches to X45.
      configuration,
      program: `${HEAD}G0 X10.
Z2.
G1 Z-3. F100
X40.
G0 X70.
^^^^^^^
Z2.
M30`,
      findings: [{ message: 'through', says: ['25 through'] }],
    },
    {
      // Between holes at an R below the top.
      configuration,
      program: `${HEAD}G99 G81 X10. Y10. Z-9. R-2. F100
^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
X70.
^^^^
G80
M30`,
      findings: [{ message: 'down' }, { message: 'through' }],
    },
    {
      configuration: cylinder,
      program: `${HEAD}Y0
X-40.
Z-5.
G0 X0
^^^^^
M30`,
      // 60 in diameter: from X-29.95 (0.05 of its face) to X0.
      findings: [{ message: 'through', says: ['29.95 through'] }],
    },
    {
      configuration: { stock: { ...box, min: [0, 0, -25.4], max: [76.2, 50.8, 25.4] } },
      program: `
G20 G90 G54
G0 X1. Y1.
G43 H1 Z.5
^^^^^^^^^^
M30`,
      findings: [{ message: 'down', says: ['Z0.5', 'Z1,'] }],
    },
  ],
});
