import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('cycle-word-missing', {
  quiet: [
    { program: 'G81 X1. Y1. Z-5. R2. F100\nX2.\nG80\nM30' },
    // Levels and code in blocks of their own.
    { program: 'G98 G81 R2. F100\nX1. Y1. Z-5.\nX2.\nG80\nM30' },
    { program: 'G81 X1. Z-5. R2. L0 F100\nX1.\nM30' },
    // Levels go on into the next cycle while none was ended.
    { program: 'G81 X1. Z-5. R2. F100\nG83 X2. Q1.\nG82 X3. P0.5\nG80\nM30' },
    { program: 'G83 X1. Z-15. R2. Q3. F100\nX2.\nG80\nM30' },
    { program: 'G73 X1. Z-15. R2. Q3. F100\nG80\nM30' },
    // First peck and its decrease in I and J, as some controls have it.
    { program: 'G83 X1. Z-15. R2. I5. J1. F100\nG80\nM30' },
    // Without P the iso cycles wait no time.
    { program: 'G82 X1. Z-3. R2. F100\nG89 X2.\nG80\nM30' },
    { program: 'G83 X1. Z-15. R2. Q3. F100\nG86 X2. P1\nG80\nM2', profile: 'rs274ngc' },
    // Values that are not known here.
    { program: 'G81 X1. Z#26 R#18 F100\nX2.\nG80\nM30' },
    { program: 'G83 X1. Z-15. R2. Q#17 F100\nX2.\nG80\nM30' },
    { program: 'G91 G81 X1. Z-5. R-20. F100\nX2.\nG80\nM30' },
    { program: 'G90 G0 Z5.\nG91 G81 X1. Z-7. R-3. F100 L3\nG80\nM30' },
    { program: 'G18 G81 X1. Y-5. R2. F100\nG80\nM30' },
    { program: 'G20 G81 X1. Z-.2 R.1 F10.\nG80\nM30' },
    // A subprogram of a cycle that its caller began.
    { program: 'G81 X1. Y1.\nX2.\nM99' },
    { program: 'G81\nG80\nM30' },
  ],
  reports: [
    {
      program: `
G81 X1. Y1. F100
^^^
X2.
G80
G81 X3. Z-5. F100
^^^
X4.
G80
M30`,
      findings: [
        { message: 'no-levels', says: ['G81 has neither R nor a depth', 'and Z'] },
        { message: 'no-retract', says: ['G81 has no R'] },
      ],
    },
    {
      program: `
G98 G81 R2. F100
X1. Y1.
^^^^^^^
X2.
M30`,
      findings: [{ message: 'no-depth', says: ['G81 has no depth'] }],
    },
    {
      program: `
G18
G81 X1. R2. F100
^^^
M30`,
      findings: [{ message: 'no-depth', says: ['Write Y'] }],
    },
    {
      program: `
G0 Z5.
G91 G81 X1. Z-5. F100
    ^^^
M30`,
      findings: [{ message: 'no-levels' }],
    },
    {
      program: `
G99 G83 X1. Z-15. R2. F100
    ^^^
X2.
G80
G73 X1. Z-15. R2. Q0 F100
^^^
M30`,
      findings: [
        { message: 'no-peck', says: ['G83'] },
        { message: 'peck-zero', says: ['G73'] },
      ],
    },
    {
      profile: 'rs274ngc',
      program: `
G82 X1. Z-5. R2. F100
^^^
X2.
G89 X3.
G80
G20 G83 X1. Z-.5 R.1 F10.
    ^^^
M2`,
      findings: [{ message: 'no-dwell', says: ['G82'] }, { message: 'no-peck' }],
    },
  ],
});
