import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const machine = {
  axes: { X: { min: -500, max: 0 }, Y: { min: -400, max: 0 }, Z: { min: -400, max: 0 }, A: { min: -30, max: 120 } },
  workOffsets: { G54: { X: -100, Y: -150, Z: -350, A: 0 }, G55: { X: -300 } },
} as const;
const configuration = { machine, tools: [{ number: 1, kind: 'end-mill', length: 80 }] } as const;
const HEAD = 'G21 G90 G54\nT1 M6\nG0 X0 Y0\nG43 H1 Z30.\n';

testRule('travel-exceeded', {
  quiet: [
    { program: `${HEAD}X500.\nM30` },
    { program: `${HEAD}X100.\nX-400.\nY150.\nM30`, configuration },
    // Without zeros, without a length, without limits.
    { program: `${HEAD}G56\nX900.\nM30`, configuration },
    { program: 'G21 G90 G54\nG0 X0 Y0\nG43 H2 Z900.\nM30', configuration },
    { program: `${HEAD}X500.\nM30`, configuration: { machine: { ...machine, axes: { X: { rapid: 9000 } } } } },
    // Machine Z is -350 + 80 + 270 = 0, and G53 and G28 stay inside.
    { program: `${HEAD}Z270.\nG53 G0 Z0\nG91 G28 Z0\nM30`, configuration },
    { program: `${HEAD}G3 X0 Y100. I0 J50. F100\nM30`, configuration },
    { program: `${HEAD}A120.\nM30`, configuration },
  ],
  reports: [
    {
      configuration,
      program: `${HEAD}N10 G0 X112.5 Y20.
       ^^^^^^
Y30.
Y40. X120.
X50.
X130.
^^^^^
M30`,
      findings: [
        {
          message: 'beyond',
          says: [
            'X would go to 20 in machine',
            '20 beyond the limit of 0',
            'at least 20 further to X minus',
            'the X of G54 in',
          ],
        },
        { message: 'beyond', says: ['X would go to 30', '30 beyond'] },
      ],
    },
    {
      // A half circle about X60 that bulges to X110, though its ends are at X60.
      configuration,
      program: `${HEAD}G0 X60. Y0
G3 X60. Y100. I0 J50. F100
   ^^^^
M30`,
      findings: [{ message: 'beyond', says: ['X would go to 10', '10 beyond'] }],
    },
    {
      configuration,
      program: `${HEAD}G55
X-199.
X-201.
^^^^^^
M30`,
      findings: [{ message: 'beyond', says: ['-501', '1 beyond the limit of -500', 'X plus', 'G55'] }],
    },
    {
      // Z carries the tool length: -350 + 80 + 271.
      configuration,
      program: `${HEAD}G0 Z271.
   ^^^^^
G1 A-31. F100
   ^^^^^
M30`,
      findings: [
        { message: 'beyond', says: ['Z would go to 1 '] },
        { message: 'beyond', says: ['A would go to -31', '1 beyond the limit of -30'] },
      ],
    },
    {
      configuration,
      program: `${HEAD}G53 G0 Z1.
       ^^^
M30`,
      findings: [
        { message: 'by-machine', says: ['Z would go to 1 in machine', '1 beyond the limit of 0', 'behind G53'] },
      ],
    },
    {
      // In an inch program the numbers are inches: X5. is 127 mm, 27 beyond.
      configuration,
      program: `
G20 G90 G54
G0 X5.
   ^^^
M30`,
      findings: [{ message: 'beyond', says: ['1.063 beyond'] }],
    },
  ],
});
