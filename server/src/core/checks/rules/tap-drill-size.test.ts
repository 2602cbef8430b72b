import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const part = (drill: string, tap: string, feed = '500', z = '-18.'): string =>
  `G21 G90 G54\nT1 M6 (${drill})\nS2000 M3\nG43 H1 Z30.\nG81 X0 Y0 Z${z} R2. F200\nG80\nG0 Z30.\nT2 M6 (${tap})\nS500 M3\nG43 H2 Z30.\nG84 X0 Y0 Z-12. R3. F${feed}\nG80\nM30`;
const marked = (program: string): string => program.replace(/(G84 .*\n)/, '$1^^^\n');

testRule('tap-drill-size', {
  quiet: [
    { program: part('DRILL D5', 'TAP M6X1') },
    { program: part('DRILL D5.1', 'TAP M6X1') },
    { program: part('DRILL D5.3', 'TAP M6X1') },
    { program: part('DRILL D6.8', 'TAP M8', '625') },
    { program: part('DRILL D8.8', 'TAP M10X1.25', '625') },
    { program: part('#7 DRILL', '1/4-20 UNC TAP', '635') },
    { program: part('DRILL D5.55', 'M6 FORM TAP') },
    { program: part('DRILL D11.8', 'TAP G1/4', '668.4') },
    { program: part('DRILL D8.7', '1/8-27 NPT', '470.3') },
    // Taps for wire inserts have larger holes.
    { program: part('DRILL D6.3', 'M6 STI TAP') },
    // What a drill is wide is not known.
    { program: part('DRILL', 'TAP M6X1') },
    // Where the thread is, the hole is right: a counterbore above it, and a pilot below.
    {
      program: part('DRILL D5', 'TAP M6X1').replace(
        'T2 M6',
        'T3 M6 (END MILL D11)\nS2000 M3\nG43 H3 Z30.\nG82 X0 Y0 Z-6. R2. F90\nG80\nG0 Z30.\nT4 M6 (DRILL D3)\nS3000 M3\nG43 H4 Z30.\nG81 X0 Y0 Z-30. R2. F90\nG80\nG0 Z30.\nT2 M6',
      ),
    },
    // Drilled, then reamed to size.
    {
      program: part('DRILL D4.5', 'TAP M6X1').replace(
        'T2 M6',
        'T3 M6 (REAMER 5H7)\nS300 M3\nG43 H3 Z30.\nG85 X0 Y0 Z-15. R2. F90\nG80\nG0 Z30.\nT2 M6',
      ),
    },
  ],
  reports: [
    {
      program: marked(part('DRILL D4.5', 'TAP M6X1')),
      findings: [{ message: 'narrow', says: ['M6X1 (remark TAP M6X1) in the 4.5 mm hole of tool 1 is 115 %', '5.'] }],
    },
    {
      // The fine thread’s drill for the coarse tap.
      program: marked(part('DRILL D9.5', 'TAP M10', '750')),
      findings: [{ message: 'wide', says: ['26 %', '8.5'] }],
    },
    {
      program: marked(part('DRILL D6.8', 'TAP M6X1')),
      findings: [{ message: 'nothing', says: ['6.8 mm', 'thread is 6 wide', '5.'] }],
    },
    {
      program: marked(part('DRILL D5.5', 'TAP M6X1')),
      findings: [{ message: 'for-forming', severity: 'hint', says: ['38 %', 'FORM TAP'] }],
    },
    {
      // A tool table that knows of forming taps says of this one that it is none.
      configuration: { tools: [{ number: 2, kind: 'tap', thread: 'M6', forming: false }] },
      program: marked(part('DRILL D5.5', 'TAP M6X1')),
      findings: [{ message: 'wide', says: ['38 %'] }],
    },
    {
      program: marked(part('DRILL D5', 'M6 FORM TAP')),
      findings: [{ message: 'narrow', says: ['147 %', 'The usual drill is 5.5'] }],
    },
    {
      program: marked(part('DRILL D11', 'TAP G1/4', '668.4')),
      findings: [{ message: 'pipe', says: ['G1/4', '11 mm', '11.8'] }],
    },
    {
      program: marked(part('DRILL D6.6', '1/4-20 UNC TAP', '635')),
      findings: [{ message: 'nothing', says: ['#7 (5.105)'] }],
    },
  ],
});
