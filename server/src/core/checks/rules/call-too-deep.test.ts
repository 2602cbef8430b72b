import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('call-too-deep', {
  quiet: [
    { program: 'O1\nM98 P2\nM30\nO2\nM98 P3\nM99\nO3\nM98 P4\nM99\nO4\nG0 X1.\nM99' },
    { program: 'O1\nM98 P2 L99\nM30\nO2\nG0 X1.\nM99' },
    // Calls itself, and comes to an end.
    { program: 'O1\n#101=0\nM98 P2\nM30\nO2\n#101=#101+1\nIF [#101 GT 5] GOTO 9\nM98 P2\nN9 M99' },
  ],
  reports: [
    {
      program: `
O1
N1 M98 P2
^^^^^^^^^
M30
O2
M98 P3
M99
O3
M98 P2
M99`,
      findings: [{ message: 'itself', says: ['O2 calls itself', '32'] }],
    },
    {
      program: `
O1
M98 P2
^^^^^^
M30
O2
M98 P3
M99
O3
M98 P4
M99
O4
M99`,
      configuration: { limits: { steps: 1e6, depth: 2, moves: 1e6, seconds: 60 } },
      findings: [{ message: 'deep', says: ['2 deep'] }],
    },
  ],
});
