import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import { PROFILES } from '../../machine/profile.ts';

testRule('character-set', {
  quiet: [
    { program: 'G0 X-1. (Ø8 – 3 FLUTES)' },
    { program: 'G0 X-1. (PLAIN)', profile: 'rs274ngc' },
    { program: '\tG0\tX1.\r\n%' },
    { program: '; 40 µm übermaß\nG0 X1. ; 完' },
  ],
  // The bytes are gone when the core gets its text: the command line raises it, and is tested there.
  raisedElsewhere: ['bad-utf8'],
  reports: [
    {
      program: `
G0 X\u22121.
    ^`,
      findings: [
        { message: 'dash', says: ['minus key'], fixes: [{ title: 'Write a plain minus', output: 'G0 X-1.' }] },
      ],
    },
    {
      program: `
G0\u00a0X1.
  ^`,
      findings: [
        {
          message: 'space',
          says: ['special space'],
          fixes: [{ title: 'Write a plain space', safe: true, output: 'G0 X1.' }],
        },
      ],
    },
    {
      program: `
G0 X1. €
       ^`,
      findings: [{ message: 'outside', says: ['"€"', 'U+20AC'] }],
    },
    {
      configuration: { profile: { ...PROFILES.iso, characterSet: 'ascii' } },
      program: `
G0 X1. (Ø8)
        ^`,
      findings: [{ message: 'outside', says: ['U+00D8'] }],
    },
  ],
});
