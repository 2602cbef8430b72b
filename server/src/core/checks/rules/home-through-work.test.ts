import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const HEAD = 'G21 G90 G54\nG0 X0 Y0\nG43 H1 Z50.\n';
const configuration = {
  stock: { offset: 'G54', shape: 'box', min: [0, 0, -40], max: [80, 50, -20] },
} as const;

testRule('home-through-work', {
  quiet: [
    { program: `${HEAD}G91 G28 Z0\nG90\nM30` },
    { program: `${HEAD}G91 G30 Z0\nG90\nM30` },
    // The point lies high above the work.
    { program: `${HEAD}G28 Z100.\nM30` },
    { program: `${HEAD}G28 Z30.\nM30` },
    { program: `${HEAD}G28\nM30` },
    { program: `${HEAD}G30\nM30` },
    // Table to the front for loading, at a safe height.
    { program: `${HEAD}G28 X0 Y0\nM30` },
    { program: `${HEAD}G91 G28 Z0\nG28 X0 Y0\nG90\nM30` },
    // From below the zero the way to it leads up.
    { program: `${HEAD}G1 Z-2. F100\nG28 Z0\nM30` },
    { program: 'G53 G0 Z0\nM30' },
    // The blank's top is at Z-20.
    { program: `${HEAD}G28 Z0\nM30`, configuration },
    // Without a length, and with the work's zero at the machine's upper end.
    {
      program: 'G21 G90 G54\nG28 Z0\nM30',
      configuration: {
        machine: { axes: { Z: { min: -500, max: 0, reference: 0 } }, workOffsets: { G54: { X: -100, Y: -100, Z: 0 } } },
      },
    },
  ],
  reports: [
    {
      program: `
G21 G90 G54
G43 H1 Z50.
G90 G28 Z0
        ^^
M30`,
      findings: [
        {
          message: 'dives',
          says: ['G28 Z0', 'Z0,'],
          fixes: [
            {
              title: 'Go straight home from here, then back to G90',
              output: `G21 G90 G54
G43 H1 Z50.
G91 G28 Z0.
G90
M30`,
            },
          ],
        },
      ],
    },
    {
      // Without any length offset the program's own heights count.
      program: `
G21 G90 G54
G0 Z50.
G1 Z-2. F100
G0 Z50.
M9 G28 Z-1.
       ^^^^
M30`,
      findings: [
        {
          message: 'dives',
          says: ['Z-1,'],
          fixes: [
            {
              title: 'Go straight home from here, then back to G90',
              output: `G21 G90 G54
G0 Z50.
G1 Z-2. F100
G0 Z50.
M9 G91 G28 Z0.
G90
M30`,
            },
          ],
        },
      ],
    },
    {
      // With other axes the way home is the programmer's to choose: no repair.
      program: `
G20 G90 G54
G43 H1 Z2.
G28 X0 Y0 Z0
          ^^
M30`,
      findings: [{ message: 'dives' }],
    },
    {
      program: `
G21 G90 G54
G43 H1 Z50.
G30 Z0
    ^^
M30`,
      findings: [
        {
          message: 'dives',
          says: ['G30 Z0'],
          fixes: [
            {
              title: 'Go straight home from here, then back to G90',
              output: `G21 G90 G54
G43 H1 Z50.
G91 G30 Z0.
G90
M30`,
            },
          ],
        },
      ],
    },
    {
      configuration,
      program: `
G21 G90 G54
G43 H1 Z50.
G28 Z-25.
    ^^^^^
M30`,
      findings: [
        {
          message: 'dives',
          fixes: [
            {
              title: 'Go straight home from here, then back to G90',
              output: `G21 G90 G54
G43 H1 Z50.
G91 G28 Z0.
G90
M30`,
            },
          ],
        },
      ],
    },
    {
      // Nobody knows how high the tool stands, and no length is on.
      program: `
G21 G90 G54
G28 Z0
    ^^
M30`,
      findings: [
        {
          message: 'perhaps',
          severity: 'warning',
          fixes: [
            {
              title: 'Go straight home from here, then back to G90',
              output: `G21 G90 G54
G91 G28 Z0.
G90
M30`,
            },
          ],
        },
      ],
    },
  ],
});
