import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const HEAD = 'G21 G90 G54\nT1 M6 (END MILL D10)\nS1000 M3\nG0 X0 Y0\nG43 H1 Z30.\nZ2.\n';
const CONTOUR = 'G0 X-20. Y-20.\nG1 Z-5. F100\nX0\nY50.\nX50.\nY0\nX-20.\n';
const box = { offset: 'G54', shape: 'box', min: [0, 0, -20], max: [50, 50, 0] } as const;
const configuration = { stock: box };

testRule('no-retract', {
  quiet: [
    { program: `${HEAD}G1 Z-5. F100\nX50.\nG0 Z2.\nX0\nM30` },
    { program: `${HEAD}G1 Z-5. F100\nX50.\nG1 Z2. F2000\nG0 X0\nT2 M6\nM30` },
    { program: `${HEAD}G1 Z-5. F100\nX50.\nG91 G28 Z0\nG90\nT2 M6\nM30` },
    { program: `${HEAD}G1 Z-5. F100\nX50.\nG53 G0 Z0\nT2 M6\nG55\nM30` },
    { program: `${HEAD}G1 Z-5. F100\nX50.\nG0 X60. Y10. Z5.\nM30` },
    // Above the zero.
    { program: `${HEAD}G1 Z1. F100\nX50.\nG0 X0 Y0\nM30` },
    { program: `${HEAD}G1 Z0 F100\nX50.\nG0 Y8.\nG28 X0\nM30` },
    // Facing to and fro: steps at depth, off the part.
    { program: `${HEAD}G0 X-20.\nG1 Z-1. F100\nX120.\nG0 Y8.\nG1 X-20.\nG0 Y16.\nG1 X120.\nG0 Z30.\nM30` },
    // Facing one way.
    { program: `${HEAD}G0 X-20.\nZ-1.\nG1 X120. F100\nG0 X-20. Y8.\nG1 X120.\nG0 Z30.\nM30` },
    // Round the outside, along it at rapid, then up or deeper.
    { program: `${HEAD}${CONTOUR}G0 Y-20.\nG0 Z30.\nM30` },
    { program: `${HEAD}${CONTOUR}G0 Y-20.\nG1 Z-10.\nX0\nY50.\nX50.\nY0\nX-20.\nG0 Z30.\nM30` },
    // Off the contour, out to where it came down.
    { program: `${HEAD}G0 X-20. Y-20.\nG1 Z-5. F100\nX0\nY50.\nX50.\nY0\nX0\nG0 X-20. Y-20.\nG0 Z30.\nM30` },
    // Off the contour, away from it.
    { program: `${HEAD}G0 X-20. Y-20.\nG1 Z-5. F100\nX0 Y0\nY50.\nX50.\nY0\nX0\nG0 X-20. Y5.\nG0 Z30.\nM30` },
    // Off the wall to the middle of the bore, or of the pocket.
    { program: `${HEAD}G1 Z-5. F100\nG3 X5. Y0 I2.5\nG3 I-5.\nG0 X0 Y0\nZ5.\nM30` },
    { program: `${HEAD}G1 Z-5. F100\nX10.\nY10.\nX-10.\nY-10.\nX10.\nG0 X0 Y0\nG1 Z-10.\nX10.\nG0 Z5.\nM30` },
    // Back through the slot to go deeper.
    { program: `${HEAD}G1 Z-5. F100\nX50.\nG0 X0\nG1 Z-10.\nX50.\nG0 Z5.\nM30` },
    // Out of an undercut the way it came in; off the wall of a bore; away from what was measured.
    {
      program: `${HEAD.replace('END MILL D10', 'T-SLOT CUTTER D20')}G0 X-20.\nZ-8.\nG1 X30. F100\nG0 X-20.\nZ30.\nM30`,
    },
    { program: `${HEAD.replace('END MILL D10', 'BORING BAR D20')}G1 Z-8. F100\nG0 X-0.3\nZ30.\nM30` },
    { program: `${HEAD.replace('END MILL D10', 'PROBE')}G1 Z-8. F100\nG1 X30.\nG0 X0\nZ30.\nM30` },
    // The way up is in a subprogram.
    { program: `${HEAD}G1 Z-5. F100\nX50.\nM98 P9000\nT2 M6\nM30` },
    { program: `${HEAD}G1 Z-5. F100\nX50.\nG65 P9000\nG0 X0\nM30` },
    // An angle head comes out along Y.
    { program: `${HEAD}G18\nG0 Y-60.\nZ-15.\nG1 Y-36. F80\nG3 X0 Z-15. K-5.\nG0 Y-60.\nZ30.\nG17\nM30` },
    // Beside the blank, with room for the cutter.
    { program: `${HEAD}${CONTOUR}G0 Y80.\nX80.\nM30`, configuration },
    // A cycle comes out by itself, and stays at its R between the holes of a recess.
    { program: `${HEAD}G99 G81 X5. Y5. Z-9. R-3. F100\nX15.\nG80\nG0 X30.\nM30` },
    // The zero is the machine's upper end: nothing was cut since the way up.
    { program: 'G21 G90 G54\nG0 X0 Y0\nZ-200.\nG1 Z-250. F100\nX50.\nG0 Z-100.\nX0\nT2 M6\nM30' },
    { program: `${HEAD}G1 Z-5. F100\nX50.\nG54 X60.\nG0 Z5.\nM30` },
  ],
  reports: [
    {
      // Back along the slot.
      program: `${HEAD}G1 Z-5. F100
X50.
N80 G0 X0 Y0 (BACK)
    ^^^^^^^^
M30`,
      findings: [
        {
          message: 'rapid',
          says: ['Z-5'],
          fixes: [
            {
              title: 'Go up to Z2. first',
              output: `${HEAD}G1 Z-5. F100\nX50.\nG0 Z2.\nN80 G0 X0 Y0 (BACK)\nM30`,
            },
          ],
        },
      ],
    },
    {
      // On to the next plunge.
      program: `${HEAD}G1 Z-5. F100
X50.
G0 X80. Y20.
^^^^^^^^^^^^
G1 Z-5.
X90.
G0 Z5.
M30`,
      findings: [
        {
          message: 'rapid',
          fixes: [
            {
              title: 'Go up to Z2. first',
              output: `${HEAD}G1 Z-5. F100\nX50.\nG0 Z2.\nG0 X80. Y20.\nG1 Z-5.\nX90.\nG0 Z5.\nM30`,
            },
          ],
        },
      ],
    },
    {
      program: `${HEAD}G1 Z-5. F100
X50.
G0 X80. Y20.
^^^^^^^^^^^^
Z2.
G1 Z-5.
X90.
G0 Z5.
M30`,
      findings: [
        {
          message: 'rapid',
          fixes: [
            {
              title: 'Go up to Z2. first',
              output: `${HEAD}G1 Z-5. F100\nX50.\nG0 Z2.\nG0 X80. Y20.\nZ2.\nG1 Z-5.\nX90.\nG0 Z5.\nM30`,
            },
          ],
        },
      ],
    },
    {
      // From outside the contour to its middle.
      program: `${HEAD}${CONTOUR}G0 X25. Y25.
^^^^^^^^^^^^
G0 Z30.
M30`,
      findings: [
        {
          message: 'rapid',
          fixes: [{ title: 'Go up to Z2. first', output: `${HEAD}${CONTOUR}G0 Z2.\nG0 X25. Y25.\nG0 Z30.\nM30` }],
        },
      ],
    },
    {
      // At the second depth: the level that the tool came from is no safe one.
      program: `${HEAD}G1 Z-5. F100
X50.
G0 X0
G1 Z-10.
X50.
G0 X0 Y20.
^^^^^^^^^^
G1 Z-12.
M30`,
      findings: [{ message: 'rapid', says: ['Z-10'] }],
    },
    {
      // Round two sides, and back across the part.
      program: `${HEAD}G0 X-20. Y-5.
G1 Z-5. F100
X85.
Y60.
G0 X-20. Y-5.
^^^^^^^^^^^^^
G0 Z30.
M30`,
      findings: [
        {
          message: 'rapid',
          fixes: [
            {
              title: 'Go up to Z2. first',
              output: `${HEAD}G0 X-20. Y-5.\nG1 Z-5. F100\nX85.\nY60.\nG0 Z2.\nG0 X-20. Y-5.\nG0 Z30.\nM30`,
            },
          ],
        },
      ],
    },
    {
      // From the contour straight to its middle.
      program: `${HEAD}G0 X0 Y-20.
G1 Z-5. F100
Y50.
X50.
Y0
X0
G0 X25. Y25.
^^^^^^^^^^^^
G0 Z30.
M30`,
      findings: [
        {
          message: 'rapid',
          fixes: [
            {
              title: 'Go up to Z2. first',
              output: `${HEAD}G0 X0 Y-20.\nG1 Z-5. F100\nY50.\nX50.\nY0\nX0\nG0 Z2.\nG0 X25. Y25.\nG0 Z30.\nM30`,
            },
          ],
        },
      ],
    },
    {
      // In G91 the level cannot be written as it is.
      program: `
G20 G90 G54
G0 X0 Y0
G43 H1 Z.1
G91
G1 Z-.3 F4.
X2.
G0 X-2.
^^^^^^^
M30`,
      findings: [{ message: 'rapid', says: ['Z-0.2'] }],
    },
    {
      program: `${HEAD}G1 Z-5. F100
X50.
G91 G28 X0 Y0
^^^^^^^^^^^^^
G90
M30`,
      findings: [
        {
          message: 'home',
          fixes: [
            {
              title: 'Go home along Z first',
              output: `${HEAD}G1 Z-5. F100\nX50.\nG91 G28 Z0.\nG90\nG91 G28 X0 Y0\nG90\nM30`,
            },
          ],
        },
      ],
    },
    {
      program: `${HEAD}G1 Z-5. F100
X50.
T2 M6
   ^^
M30`,
      findings: [
        {
          message: 'tool',
          fixes: [
            {
              title: 'Go home along Z first',
              output: `${HEAD}G1 Z-5. F100\nX50.\nG91 G28 Z0.\nG90\nT2 M6\nM30`,
            },
          ],
        },
      ],
    },
    {
      // Cleared off at depth, but never up.
      program: `${HEAD}G0 X-20.
Z-5.
G1 X120. F100
G0 Y-50.
T2 M6
   ^^
M30`,
      findings: [
        {
          message: 'tool',
          fixes: [
            {
              title: 'Go home along Z first',
              output: `${HEAD}G0 X-20.\nZ-5.\nG1 X120. F100\nG0 Y-50.\nG91 G28 Z0.\nG90\nT2 M6\nM30`,
            },
          ],
        },
      ],
    },
    {
      program: `${HEAD}G1 Z-5. F100
X50.
G55
^^^
G0 Z5.
M30`,
      findings: [
        {
          message: 'offset',
          fixes: [
            {
              title: 'Go home along Z first',
              output: `${HEAD}G1 Z-5. F100\nX50.\nG91 G28 Z0.\nG90\nG55\nG0 Z5.\nM30`,
            },
          ],
        },
      ],
    },
    {
      // The blank stands above the zero.
      configuration: { stock: { ...box, max: [50, 50, 10] } },
      program: `${HEAD}G0 Z20.
G1 Z5. F100
X50.
G0 X0
^^^^^
Z20.
M30`,
      findings: [
        {
          message: 'rapid',
          fixes: [
            {
              title: 'Go up to Z20. first',
              output: `${HEAD}G0 Z20.\nG1 Z5. F100\nX50.\nG0 Z20.\nG0 X0\nZ20.\nM30`,
            },
          ],
        },
      ],
    },
  ],
});
