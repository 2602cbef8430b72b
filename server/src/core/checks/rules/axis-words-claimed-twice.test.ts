import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('axis-words-claimed-twice', {
  quiet: [
    { program: 'G0 G91 G28 Z0' },
    { program: 'G0 G53 Z0' },
    { program: 'G0 G43 H1 Z30.\nG54 G0 X5.' },
    { program: 'G4 P0.5\nG10 L2 P1 X0 Y0 Z-300.\nG52 X10. Y0' },
    { program: 'G68 X0 Y0 R30.\nG0 X10.\nG69' },
  ],
  reports: [
    {
      program: `
G28 G92 X0 Y0
    ^^^`,
      findings: [{ message: 'twice', says: ['G28', 'G92'] }],
    },
  ],
});
