import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const HEAD = 'G21 G90 G54\nT1 M6\nS1000 M3\nG0 X-20. Y10.\nG43 H1 Z30.\nZ2.\n';
const mill = { tools: [{ number: 1, kind: 'end-mill', diameter: 10, fluteLength: 20 }] } as const;
const drill = { tools: [{ number: 1, kind: 'drill', diameter: 5, fluteLength: 50 }] } as const;
const stock = { offset: 'G54', shape: 'box', min: [0, 0, -40], max: [80, 50, 5] } as const;

testRule('depth-over-flute', {
  quiet: [
    { program: `${HEAD}G1 Z-25. F100\nX100.\nG0 Z2.\nM30` },
    { program: `${HEAD}G1 Z-20. F100\nX100.\nG0 Z2.\nM30`, configuration: mill },
    // In steps: a relieved shank has room in what was cut before.
    { program: `${HEAD}G1 Z-15. F100\nX100.\nZ-30.\nX-20.\nZ-45.\nX100.\nG0 Z2.\nM30`, configuration: mill },
    // A ramp, and a helix.
    { program: `${HEAD}G1 Z0 F100\nX100. Z-30.\nX-20.\nG0 Z2.\nM30`, configuration: mill },
    { program: `${HEAD}G1 Z0 F100\nG3 I5. Z-30. P10\nG3 I5.\nG0 Z2.\nM30`, configuration: mill },
    // Nobody says how high the work stands where the tool comes down beside it.
    { program: `${HEAD}G0 Z-30.\nG1 X100. F100\nG0 Z2.\nM30`, configuration: mill },
    // In air only.
    { program: `${HEAD}G1 Z-30. F100\nG0 Z2.\nM30`, configuration: mill },
    { program: `${HEAD}G83 X5. Z-50. R2. Q5. F100\nG80\nM30`, configuration: drill },
    // In a recess that begins at R.
    { program: `${HEAD}G81 X5. Z-70. R-25. F100\nG80\nM30`, configuration: drill },
  ],
  reports: [
    {
      configuration: mill,
      program: `${HEAD}G1 Z-25. F100
X100.
^^^^^
Z-50.
X-20.
G0 Z2.
M30`,
      findings: [{ message: 'mill', says: ['Tool 1 goes from Z0 to Z-25', '25 deep', '20 long'] }],
    },
    {
      // The second step is too long.
      configuration: mill,
      program: `${HEAD}G1 Z-10. F100
X100.
Z-31.
X-20.
^^^^^
G0 Z2.
M30`,
      findings: [{ message: 'mill', says: ['from Z-10 to Z-31', '21 deep'] }],
    },
    {
      // The blank's top is at Z5, whatever height the tool came down at.
      configuration: { ...mill, stock },
      program: `${HEAD}G0 Z-16.
G1 X100. F100
^^^^^^^^^^^^^
G0 Z2.
M30`,
      findings: [{ message: 'mill', says: ['from Z5 to Z-16'] }],
    },
    {
      configuration: drill,
      program: `${HEAD}G99 G83 X5. Z-40. R2. Q5. F100
X15. Z-51.
^^^^^^^^^^
X25.
G80
M30`,
      findings: [{ message: 'drill', says: ['Z-51', '51 deep', '50 long'] }],
    },
  ],
});
