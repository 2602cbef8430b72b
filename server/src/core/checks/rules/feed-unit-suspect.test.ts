import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const START = 'G17 G21 G90 G54\n';

testRule('feed-unit-suspect', {
  quiet: [
    { program: `${START}T1 M6\nS6000 M3\nG0 X0 Y0 Z2.\nG1 Z-1. F300\nX50. F800\nM30` },
    // Slow in, fast through the air: the factor is 25, or 60, and no slip.
    { program: `${START}T1 M6\nS6000 M3\nG1 Z-1. F80\nX50. F2000\nM30` },
    { program: `${START}T1 M6\nS6000 M3\nG1 Z-1. F50\nX50. F3000\nM30` },
    { program: `${START}T1 M6\nS3000 M3\nG1 X10. F60\nX50. F1524\nM30` },
    // A fine cutter at a fine feed.
    { program: `${START}T1 M6 (END MILL D1 2FL)\nS12000 M3\nG1 X10. F30\nM30` },
    { program: `${START}T1 M6 (ENGRAVER)\nS20000 M3\nG1 X10. F40\nM30` },
    { program: `${START}T1 M6 (REAMER D8)\nS200 M3\nG85 X0 Y0 Z-10. R2. F60\nG80\nM30` },
    { program: `${START}T1 M6 (BORING BAR)\nS900 M3\nG85 X0 Y0 Z-10. R2. F30\nG80\nM30` },
    // By the turn, and a tap by its lead.
    { program: `${START}T1 M6\nS900 M3\nG95 G1 X10. F0.15\nG94\nM30` },
    { program: `${START}T1 M6 (TAP M20X2.5)\nS100 M3\nG95 G84 X0 Y0 Z-10. R5. F2.5\nG80\nM30` },
    { program: 'G17 G20 G90 G54\nT1 M6 (END MILL .5 4FL)\nS4000 M3\nG1 X1. F40.\nZ-.1 F10.\nM30' },
    // Feeds worked out block by block.
    {
      program: `${START}T1 M6\nS6000 M3\n${Array.from({ length: 40 }, (_, i) => `G1 X${i}. F${i === 20 ? 31.5 : 800 - i}`).join('\n')}\nM30`,
    },
    // The tool before had the feed.
    { program: `${START}T1 M6\nS6000 M3\nG1 X10. F800\nT2 M6\nS6000 M3\nG1 X20. F31.5\nM30` },
    { program: `${START}T1 M6\nG1 X10. F800\nX20. F31.5\nM30` },
  ],
  reports: [
    {
      program: `
G17 G21 G90 G54
T1 M6
S6000 M3
G1 X10. F800
Y10. F31.5
     ^^^^^
M30`,
      findings: [{ message: 'inch', says: ['F31.5', 'S6000', 'F800 in line 4', 'Write F800.1'] }],
    },
    {
      program: `
G17 G21 G90 G54
T1 M6
S6000 M3
G1 X10. F800
Y10. F13.333
     ^^^^^^^
M30`,
      findings: [{ message: 'second', says: ['F13.333', 'F800'] }],
    },
    {
      program: `
G17 G21 G90 G54
T1 M6
S3000 M3
G1 X10. F0.1
        ^^^^
M30`,
      findings: [{ message: 'turn', says: ['F0.1', '0.1 mm a turn', 'F300', 'G95'] }],
    },
    {
      program: `
G17 G21 G90 G54
T1 M6
S3000 M3
G95 G1 X10. F300
            ^^^^
M30`,
      findings: [{ message: 'minute', says: ['300 mm', 'G94'] }],
    },
    {
      program: `
G17 G20 G90 G54
T1 M6
S6000 M3
G1 X1. F31.5
Y1. F800.
    ^^^^^
M30`,
      findings: [{ message: 'metric', says: ['F800', 'line 4', 'F31.5'] }],
    },
    {
      program: `
G17 G21 G90 G54
T1 M6 (END MILL D10 3FL)
S6000 M3
G0 X0 Y0
G1 X10. F25.
        ^^^^
M30`,
      findings: [{ message: 'inch', says: ['0.00139 mm a tooth', 'F635'] }],
    },
    {
      configuration: { tools: [{ number: 1, kind: 'drill', diameter: 8.5 }] },
      program: `
G17 G21 G90 G54
T1 M6
S2500 M3
G81 X0 Y0 Z-10. R2. F6.
                    ^^^
G80
M30`,
      findings: [{ message: 'inch', says: ['a tooth', 'F152.4'] }],
    },
  ],
});
