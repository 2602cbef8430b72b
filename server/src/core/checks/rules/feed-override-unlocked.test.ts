import { contextUnder, runBlock } from '../../../../../tests/harness/blocks.ts';
import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import { PROFILES } from '../../machine/profile.ts';

const byHand = (before = '', tool = 'T1 M6 (TAP M6X1)'): string =>
  `${tool}\nS500 M3\nG0 X0 Y0 Z5.\n${before}G1 Z-12. F500\nM4\nG1 Z5.\nM48\nG0 Z30.\n`;
const cycle = (code: string): string => `T1 M6 (TAP M6X1)\nS500 M3\n${code} X0 Y0 Z-12. R5. F500\nG80\nM30`;

/** A generated block for a self-reversing head, and the same without its remarks. */
const HEAD = { thread: 'M6', depth: 10, speed: 500, holder: 'reversing', ratio: 1.75, 'self-feed': 2, 'free-up': 4 };
const generated = runBlock('tapping', HEAD, contextUnder(PROFILES.iso)).lines.join('\n');
const withoutMarkers = generated.replace(/\( BLOCKWRIGHT.*\n?/g, '');

testRule('feed-override-unlocked', {
  quiet: [
    { program: `${byHand('M49\n')}M30` },
    { program: `T1 M6 (TAP M6X1)\n${generated}\nM30` },
    { program: cycle('G84') },
    { program: cycle('G85').replace('S500', 'M49 S500') },
    { program: `${byHand('', 'T1 M6 (DRILL D5)')}M30` },
    { program: 'T1 M6 (TAP M6X1)\nS500 M3\nG0 X0 Y0 Z5.\nG33 Z-12. F1.\nM4\nG33 Z5.\nM30' },
    { program: 'T1 M6 (TAP M6X1)\nS500 M3\nG0 X0 Y0 Z30.\nG1 Z5. F2000\nG84 Z-12. R5. F500\nG80\nM30' },
  ],
  reports: [
    {
      program: `
T1 M6 (TAP M6X1)
S500 M3
G0 X0 Y0 Z5.
G1 Z-12. F500
^^^^^^^^^^^^^
M4
Z5.
G0 X10.
G1 Z-12.
M3
Z5.
M30`,
      findings: [{ message: 'unlocked', says: ['M6X1', 'tapped here with G1,', 'M49', 'M48'] }],
    },
    {
      program: `T1 M6 (TAP M6X1)\n${withoutMarkers.replace(/G9 G1.*/, (line) => `${line}\n${'^'.repeat(line.length)}`)}\nM30`,
      findings: [{ message: 'unlocked' }],
    },
    {
      // Unlocked again before the second tap.
      program: `${byHand('M49\n')}T2 M6 (TAP M8)
S400 M3
G85 X9. Y0 Z-12. R8. F500
^^^
G80
M30`,
      findings: [{ message: 'unlocked', says: ['M8X1.25 is tapped here with G85'] }],
    },
  ],
});
