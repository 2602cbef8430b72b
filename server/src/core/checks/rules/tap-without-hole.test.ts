import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const at = (...xs: readonly number[]): string =>
  xs.map((x, place) => `X${x}. Y0.${place === 0 ? ' Z-18. R2. F200' : ''}\n`).join('');
const holes = (remark: string, ...xs: readonly number[]): string =>
  `T1 M6 (${remark})\nS2000 M3\nG43 H1 Z30.\nG81 ${at(...xs)}G80\nG0 Z30.\n`;
const tap = (...xs: readonly number[]): string =>
  `T2 M6 (TAP M6X1)\nS500 M3\nG43 H2 Z30.\nG84 ${at(...xs).replace('Z-18. R2. F200', 'Z-15. R3. F500')}G80\nG0 Z30.\n`;
const HEAD = 'G21 G90 G54\n';
const END = 'M30';

testRule('tap-without-hole', {
  quiet: [
    { program: HEAD + holes('DRILL D5', 0, 10, 20) + tap(0, 10, 20) + END },
    // All holes are there from before.
    { program: HEAD + tap(0, 10, 20) + END },
    // Drilled in a loop by hand-written moves.
    {
      program: `${HEAD}T1 M6 (DRILL D5)\nS2000 M3\nG43 H1 Z30.\n#1=0\nWHILE [#1 LT 3] DO1\nG0 X[#1*10.] Y0\nZ2.\nG1 Z-18. F200\nG0 Z2.\n#1=#1+1\nEND1\n${tap(0, 10, 20)}${END}`,
    },
    // The zero is the table: one hole goes through, and the others end above it.
    {
      program: `${HEAD}T1 M6 (DRILL D5)\nS2000 M3\nG43 H1 Z50.\nG81 X0 Y0 Z4. R22. F200\nX10.\nX20. Z-3.\nG80\nT2 M6 (TAP M6X1)\nS500 M3\nG43 H2 Z50.\nG84 X0 Y0 Z8. R25. F500\nX10.\nX20.\nG80\n${END}`,
    },
    // A call that leads nowhere may drill it.
    { program: `${HEAD}${holes('DRILL D5', 0, 10)}M98 P77\n${tap(0, 10, 20)}${END}` },
    // A bore milled along a circle, and a hole by a tool that nobody named.
    { program: `${HEAD}${holes('DRILL D5', 0)}${holes('SPECIAL', 10)}${tap(0, 10)}${END}` },
    // Milled round by a cutter that nobody named: the hole may be its work.
    {
      program: `${HEAD}${holes('DRILL D5', 0)}T3 M6\nS3000 M3\nG0 X10. Y0\nG43 H3 Z1.\nG1 X11. Z-16. F200\nG3 I-1.\nG0 Z30.\n${tap(0, 10)}${END}`,
    },
    // Incremental places come to the same.
    {
      program: `${HEAD}${holes('DRILL D5', 0, 10, 20)}T2 M6 (TAP M6X1)\nS500 M3\nG43 H2 Z30.\nX0 Y0\nG84 Z-15. R3. F500\nG91 X10.\nX10.\nG90 G80\n${END}`,
    },
  ],
  reports: [
    {
      program: `${HEAD}${holes('DRILL D5', 0, 10)}${tap(0, 10).replace('G80\nG0 Z30.\n', '')}X30. Y5.
^^^^^^^^
G80
M30`,
      findings: [{ message: 'missing', says: ['X30 Y5', 'M6X1', '2 of the'] }],
    },
    {
      program: `${HEAD}${holes('SPOT DRILL D10 90DEG', 0, 10, 20)}${holes('DRILL D5', 0, 10)}${tap(0, 10).replace('G80\nG0 Z30.\n', '')}X20.
^^^^
G80
M30`,
      findings: [{ message: 'spotted', says: ['X20 Y0'] }],
    },
    {
      program: `${HEAD}${holes('DRILL D5', 0, 10)}${tap(0, 10).replace('G80\nG0 Z30.\n', '')}X20.
^^^^
G80
G0 Z30.
${holes('DRILL D5', 20)}M30`,
      findings: [{ message: 'later', says: ['X20 Y0', 'line 20'] }],
    },
    {
      // None of the second tap's holes is drilled: they may be there from before.
      program: `${HEAD}${holes('DRILL D5', 0, 10)}${tap(0, 10)}T3 M6 (TAP M8)
S400 M3
G43 H3 Z30.
G84 X40. Y0. Z-15. R3. F500
^^^
X50.
G80
M30`,
      findings: [{ message: 'tool', says: ['M8X1.25', '2 of the'] }],
    },
  ],
});
