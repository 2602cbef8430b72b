import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const stock = { offset: 'G54', shape: 'box', min: [0, 0, -20], max: [80, 50, 0] } as const;
const round = { offset: 'G54', shape: 'cylinder', diameter: 60, centre: [0, 0], top: 0, bottom: -20 } as const;

testRule('cycle-left-on', {
  quiet: [
    { program: 'T1 M6\nG81 X1. Z-5. R2. F100\nX2.\nG80\nG0 Z50.\nT2 M6\nM30' },
    // G0 ends a cycle too.
    { program: 'T1 M6\nG81 X1. Z-5. R2. F100\nX2.\nG0 Z50.\nT2 M6\nM30' },
    { program: 'T1 M6\nG81 X1. Z-5. R2. F100\nG80 T2 M6\nM30' },
    { program: 'G81 X1. Z-5. R2. F100\nX2.\nG91 G28 Z0.\nG90\nM30' },
    // Deeper in the same hole, and other levels on the way.
    { program: 'G81 X1. Z-5. R2. F100\nZ-8.\nX2. Z-6. R4.\nG98 X3.\nG80\nM30' },
    { program: 'G81 X1. Z-5. R2. F100\nX0. Y0.\nG80\nM30' },
    { program: 'G81 X1. Z-5. R2. F100\nG0 G53 Z0.\nM30' },
    { program: 'G81 X1. Z-5. R2. F100\nM30' },
    { program: 'G18 G81 X1. Y-5. R2. F100\nX2. Y-6.\nG80\nM2', profile: 'rs274ngc' },
    { program: 'G20 G81 X1. Z-.2 R.1 F10.\nX2.\nG80\nM30' },
    // The blank of another offset, and holes at the edge.
    { program: 'G55\nG81 X1. Z-5. R2. F100\nX200.\nG80\nM30', configuration: { stock } },
    { program: 'T1 M6 (DRILL D10)\nG81 X1. Y1. Z-5. R2. F100\nX-4. Y4.\nX84.\nG80\nM30', configuration: { stock } },
    { program: 'G81 X1. Z-5. R2. F100\nX20. Y20.\nG80\nG0 X300.\nM30', configuration: { stock: round } },
  ],
  reports: [
    {
      program: `
T1 M6
G81 X1. Z-5. R2. F100
G91 G28 Z0.
N50 T2 M6
    ^^^^^
G90 G0 X0.
M30`,
      findings: [
        {
          message: 'tool-change',
          says: ['G81'],
          fixes: [
            {
              title: 'Write G80 before it',
              output: 'T1 M6\nG81 X1. Z-5. R2. F100\nG91 G28 Z0.\nN50 G80 T2 M6\nG90 G0 X0.\nM30',
            },
          ],
        },
      ],
    },
    {
      profile: 'rs274ngc',
      program: `
T1 M6
G81 X1. Z-5. R2. F100
T2 M6 X5.
^^^^^^^^^
M2`,
      findings: [{ message: 'tool-change' }],
    },
    {
      program: `
G81 X1. Z-5. R2. F100
X2.
Z50.
^^^^
X0.
M30`,
      findings: [
        {
          message: 'way-out',
          says: ['Z50 is the depth of another hole'],
          fixes: [{ title: 'Write G0 before it', output: 'G81 X1. Z-5. R2. F100\nX2.\nG0 Z50.\nX0.\nM30' }],
        },
      ],
    },
    {
      program: `
G0 Z5.
G81 X1. Z-5. R2. F100
G91 Z50.
^^^^^^^^
M30`,
      findings: [
        {
          message: 'way-out',
          says: ['Z52 is'],
          fixes: [{ title: 'Write G0 before it', output: 'G0 Z5.\nG81 X1. Z-5. R2. F100\nG0 G91 Z50.\nM30' }],
        },
      ],
    },
    {
      program: `
G20
G43 H1 Z1.
G81 X1. Z-.2 R.1 F10.
G43 H2 Z2.
^^^^^^^^^^
G80
M30`,
      findings: [
        {
          message: 'way-out',
          says: ['Z2 is'],
          fixes: [
            {
              title: 'Write G0 before it',
              output: 'G20\nG43 H1 Z1.\nG81 X1. Z-.2 R.1 F10.\nG0 G43 H2 Z2.\nG80\nM30',
            },
          ],
        },
      ],
    },
    {
      program: `
G81 X1. Z-5. R2. F100
N20 G53 Z0.
    ^^^^^^^
M30`,
      findings: [
        {
          message: 'machine',
          fixes: [{ title: 'Write G0 before it', output: 'G81 X1. Z-5. R2. F100\nN20 G0 G53 Z0.\nM30' }],
        },
      ],
    },
    {
      program: `
G81 X1. Z-5. R2. F100
X0. Y0. M30
^^^^^^^^^^^`,
      findings: [{ message: 'program-end' }],
    },
    {
      configuration: { stock },
      program: `
T1 M6 (DRILL D10)
G81 X10. Y10. Z-5. R2. F100
X20.
X0. Y200.
^^^^^^^^^
X-100.
M30`,
      findings: [{ message: 'beside', says: ['X0 Y200'] }],
    },
    {
      configuration: { stock: round },
      program: `
G81 X10. Y10. Z-5. R2. F100
X41.
^^^^
M30`,
      findings: [{ message: 'beside', says: ['X41 Y10'] }],
    },
  ],
});
