import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('air-pass-left-on', {
  quiet: [
    { program: 'G21 G90 G54\n(AIR PASS DONE)\nG0 X10.\nM30' },
    { program: '( blockwright-ignore feed-missing )\nG1 X10.\nM30' },
    // Words of our own that go on.
    { program: '(blockwright-air-passes 3)\nG0 X10.\nM30' },
    { program: '(SEE blockwright-air-pass-notes)\nG0 X10.\nM30' },
    { program: '( blockwright-ignore air-pass-left-on )\n( blockwright-air-pass 50 )\nG0 X10.\nM30' },
  ],
  reports: [
    {
      program: `
( blockwright-air-pass 50 )
  ^^^^^^^^^^^^^^^^^^^^^^^
G21 G90 G54
G0 X10.
M30`,
      findings: [{ message: 'lifted', says: ['runs 50 higher'] }],
    },
    {
      // Any case, an inch program, in a block with words.
      program: `
G20 G90 G54 (BLOCKWRIGHT-AIR-PASS 2.5)
             ^^^^^^^^^^^^^^^^^^^^^^^^
G0 X1.
(Blockwright-Air-Pass: .5 INCH)
 ^^^^^^^^^^^^^^^^^^^^^^^^
M30`,
      findings: [
        { message: 'lifted', says: ['runs 2.5 higher'] },
        { message: 'lifted', says: ['runs 0.5 higher'] },
      ],
    },
    {
      program: `
G0 X10. ; blockwright-air-pass 0.5
          ^^^^^^^^^^^^^^^^^^^^^^^^
M30`,
      findings: [{ message: 'lifted', says: ['runs 0.5 higher'] }],
    },
    {
      program: `
G21 G90
(BLOCKWRIGHT-AIR-PASS)
 ^^^^^^^^^^^^^^^^^^^^
G0 X1.
M30`,
      findings: [{ message: 'no-lift' }],
    },
    {
      // In a loop: told once.
      program: `
G21 G90
#1=0
WHILE [#1 LT 3] DO1
(blockwright-air-pass 10)
 ^^^^^^^^^^^^^^^^^^^^^^^
G0 X#1
#1=[#1+1]
END1
M30`,
      findings: [{ message: 'lifted' }],
    },
  ],
});
