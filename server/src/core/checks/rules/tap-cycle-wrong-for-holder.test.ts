import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import type { Configuration, TapHolder } from '../../machine/configuration.ts';

const tap = (holder: TapHolder | undefined, thread = 'M6'): Partial<Configuration> => ({
  tools: [{ number: 1, kind: 'tap', thread, ...(holder === undefined ? {} : { holder }) }],
});
const HEAD = 'T1 M6 (TAP M6X1)\nS500 M3\nG0 X0 Y0 Z30.\n';
const cycle = (code: string): string => `${HEAD}${code} Z-12. R5. F500\nG80\nM30`;
const byHand = (between: string): string => `${HEAD}G0 Z5.\nG1 Z-12. F500\n${between}G1 Z5.\nM30`;

testRule('tap-cycle-wrong-for-holder', {
  quiet: [
    { program: cycle('G84') },
    { program: cycle('G85') },
    { program: cycle('G84'), configuration: tap({ kind: 'synchronised' }) },
    { program: cycle('G84'), configuration: tap({ kind: 'float', float: 8 }) },
    { program: cycle('G85'), configuration: tap({ kind: 'reversing', ratio: 1 }) },
    { program: cycle('G89'), configuration: tap({ kind: 'reversing' }) },
    // The holder is not known, and none is assumed.
    { program: cycle('G85'), configuration: tap(undefined) },
    // The program turns the spindle round itself.
    { program: byHand('M4\n'), configuration: tap({ kind: 'float', float: 8 }) },
    { program: byHand('M5\nG4 P1.\nM4\n'), configuration: tap({ kind: 'float', float: 8 }) },
    { program: byHand(''), configuration: tap({ kind: 'reversing' }) },
    { program: byHand('') },
    // Bored with G85 by another tool.
    { program: cycle('G85').replace('TAP M6X1', 'REAMER D6'), configuration: { holder: 'float' } },
  ],
  reports: [
    {
      configuration: tap({ kind: 'reversing' }),
      program: `${HEAD}G84 Z-12. R5. F500 L0
X10.
^^^^
X20.
G80
M30`,
      findings: [{ message: 'reverses-twice', says: ['G84'] }],
    },
    {
      configuration: tap({ kind: 'reversing', ratio: 1.75 }),
      program: `${HEAD}G99 G84 Z-12. R5. F500
    ^^^
X10.
G80
M30`,
      findings: [{ message: 'reverses-twice', says: ['G84', 'tool 1 in the tool table'] }],
    },
    {
      configuration: { holder: 'reversing' },
      program: `${HEAD}G74 Z-12. R5. F500
^^^
G80
M30`,
      findings: [{ message: 'reverses-twice', says: ['remark TAP M6X1, holder assumed in blockwright.json'] }],
    },
    {
      configuration: tap({ kind: 'synchronised' }),
      program: `${HEAD}G85 Z-12. R5. F500
^^^
G80
M30`,
      findings: [
        {
          message: 'never-reverses',
          says: ['synchronised', 'Tap with G84'],
          fixes: [{ title: 'Write G84', output: cycle('G84') }],
        },
      ],
    },
    {
      configuration: tap({ kind: 'float', float: 8 }, 'M6 LH'),
      program: `${HEAD.replace('M3', 'M4')}G89 Z-12. R5. F500
^^^
G80
M30`,
      findings: [
        {
          message: 'never-reverses',
          says: ['floating', 'Tap with G74'],
          fixes: [{ title: 'Write G74', output: cycle('G74').replace('M3', 'M4') }],
        },
      ],
    },
    {
      configuration: tap({ kind: 'float', float: 8 }),
      program: `${HEAD}G0 Z5.
G1 Z-12. F500
G1 Z5. (OUT)
^^^^^^
M30`,
      findings: [{ message: 'by-hand', says: ['floating', 'G84', 'M4 before it'] }],
    },
    {
      // In a subprogram, called twice: told once.
      configuration: tap({ kind: 'synchronised' }),
      program: `${HEAD}M98 P2 L2
M30
O2
G0 Z5.
G1 Z-12. F500
Z5.
^^^
M99`,
      findings: [{ message: 'by-hand', says: ['synchronised'] }],
    },
  ],
});
