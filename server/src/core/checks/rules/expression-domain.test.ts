import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('expression-domain', {
  quiet: [
    { program: 'G0 X[SQRT[4.]] Y[1./2.] Z[ASIN[1.]]' },
    // At the edge: nothing under the root, the whole sine, a power of less than nothing with a whole number.
    { program: 'G0 X[SQRT[0]] Y[ASIN[-1.]] Z[[0-2.] ** 2.]' },
    { program: 'G0 X[0/2.] Y[ACOS[-1.]] Z[LN[1.]]' },
    // Rounding beyond 1 by less than anybody writes.
    { program: '#1=[SIN[30.]*2.]\nG0 X[ASIN[#1]]' },
  ],
  reports: [
    {
      program: `
G0 X[SQRT[-4.]]
     ^^^^^^^^^`,
      findings: [{ message: 'sqrt', says: ['-4', 'Check the numbers that go in.'] }],
    },
    {
      program: `
#1=2
#2=7
G0 X[SQRT[#1-#2+#1]] Y[1/[#1-2]]
     ^^^^^^^^^^^^^^
                       ^^^^^^^^
M30`,
      findings: [
        { message: 'sqrt', says: ['-3', 'Check the values of #1 and #2.'] },
        { message: 'zero-division', says: ['Check the value of #1.'] },
      ],
    },
    {
      program: `
G0 X[1./0]
     ^^^^`,
      findings: [{ message: 'zero-division' }],
    },
    {
      program: `
G0 X[ASIN[2.]]
     ^^^^^^^^`,
      findings: [{ message: 'asin', says: ['2'] }],
    },
    {
      program: `
G0 X[ACOS[2.]]
     ^^^^^^^^`,
      findings: [{ message: 'acos', says: ['2'] }],
    },
    {
      program: `
G0 X[LN[0]]
     ^^^^^`,
      findings: [{ message: 'ln' }],
    },
    {
      program: `
G0 X[[0-2.] ** 0.5]
     ^^^^^^^^^^^^^`,
      findings: [{ message: 'power' }],
    },
  ],
});
