import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('plane-left-changed', {
  quiet: [
    { program: 'G17 G90\nT1 M6\nG18\nG0 X0 Y0 Z0\nG2 X10. R10. F100\nG17\nT2 M6\nG2 X20. R10.\nM30' },
    { program: 'G17 G90\nT1 M6\nG18\nG0 X0 Y0 Z0\nG2 X10. R10. F100\nT2 M6\nG18 G2 X20. R10.\nM30' },
    { program: 'G17 G90\nT1 M6\nG18\nG0 X0 Y0 Z0\nG2 X10. R10. F100\nT2 M6\nG1 X20.\nM30' },
    // A head that is turned for the whole program.
    { program: 'G18 G90\nT1 M6\nG0 X0 Y0 Z0\nG2 X10. R10. F100\nT2 M6\nG2 X20. R10.\nM30' },
    { program: 'G18 G90\nG0 X0 Y0 Z0\nG81 X5. Z-3. Y-10. R2. F100\nG80\nM30' },
    { program: 'G17 G90\nG81 X5. Y-3. Z10. R2. F100\nG80\nM30' },
    { program: 'G18 G90\nG0 X0 Y0 Z5.\nG81 X5. Y30. Z-10. R2. F100\nG80\nM30' },
    { program: 'G17 G90\nG18\nG0 X0 Y0 Z5.\nG81 X5. Y40. Z-10. R15. F100\nG80\nM30' },
  ],
  reports: [
    {
      program: `
G17 G90
T1 M6
G18
G0 X0 Y0 Z0
G2 X10. R10. F100
T2 M6
G0 X0 Y0 Z5.
G2 X20. R10. F100
^^^^^^^^^^^^^^^^^
G2 X40. R10.
M30`,
      findings: [{ message: 'tool-change', says: ['G18', 'T2', 'arc', 'ZX'] }],
    },
    {
      program: `
G17 G90
T1 M6
G19
G1 X10. F100
T2 M6
G81 X5. Y3. Z-10. R2. F100
^^^^^^^^^^^^^^^^^^^^^^^^^^
G80
M30`,
      findings: [{ message: 'tool-change', says: ['G19', 'cycle', 'YZ'] }],
    },
    {
      program: `
G17 G90
G18
G0 X0 Y0 Z5.
G81 X5. Y30. Z-10. R2. F100
^^^^^^^^^^^^^^^^^^^^^^^^^^^
X10.
G80
M30`,
      findings: [{ message: 'cycle', says: ['G18', 'along Y', 'Z-10.'] }],
    },
  ],
});
