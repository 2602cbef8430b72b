import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('dwell-unit', {
  quiet: [
    { program: 'G4 P500\nG4 P1.5\nG4 P1000\nG4 P2\nG4 X2.\nG4 P30\nM30' },
    { program: 'G4 P0.5\nG4 P5\nG4 P90\nG4 P120\nG4 P300\nG4 P600\nG4 P150.\nM2', profile: 'rs274ngc' },
    { program: 'G4 P500\nG4 P50\nG4 P0\nG4 X1.5\nG4 X1500\nM30', profile: 'iso-macro' },
    { program: 'G82 X1. Z-3. R2. P500 F100\nG80\nM30' },
    { program: 'G82 X1. Z-3. R2. P0.5 F100\nG80\nM2', profile: 'rs274ngc' },
    { program: 'G82 X1. Z-3. R2. P200 F100\nG80\nM30', profile: 'iso-macro' },
    // P of a cycle that does not wait, of a call and of an arc.
    { program: 'G81 X1. Z-3. R2. P2000. F100\nG80\nM98 P2000\nM30' },
    { program: '#1=2000\nG4 P#1\nM2', profile: 'rs274ngc' },
  ],
  reports: [
    {
      profile: 'rs274ngc',
      program: `
G4 P2000
   ^^^^^
G4 P500
   ^^^^
G20 G82 X1. Z-.1 R.1 P200 F10.
                     ^^^^
G80
M2`,
      findings: [
        {
          message: 'long',
          says: ['P2000 of G4 waits 33.3 min', 'P2. if 2 s'],
          fixes: [{ title: 'Write P2.', output: 'G4 P2.\nG4 P500\nG20 G82 X1. Z-.1 R.1 P200 F10.\nG80\nM2' }],
        },
        {
          message: 'long',
          says: ['8.3 min', '0.5 s'],
          fixes: [{ title: 'Write P0.5', output: 'G4 P2000\nG4 P0.5\nG20 G82 X1. Z-.1 R.1 P200 F10.\nG80\nM2' }],
        },
        {
          message: 'long',
          says: ['P200 of G82'],
          fixes: [{ title: 'Write P0.2', output: 'G4 P2000\nG4 P500\nG20 G82 X1. Z-.1 R.1 P0.2 F10.\nG80\nM2' }],
        },
      ],
    },
    {
      program: `
G4 P2000.
   ^^^^^^
G4 X3000.
   ^^^^^^
M30`,
      findings: [
        { message: 'long', fixes: [{ title: 'Write P2.', output: 'G4 P2.\nG4 X3000.\nM30' }] },
        { message: 'long', fixes: [{ title: 'Write X3.', output: 'G4 P2000.\nG4 X3.\nM30' }] },
      ],
    },
    {
      profile: 'iso-macro',
      program: `
G4 P0.5
   ^^^^
G82 X1. Z-3. R2. P2 F100
                 ^^
G80
M30`,
      findings: [
        {
          message: 'short',
          says: ['waits only 0.0005 s', 'P500 if 0.5 s'],
          fixes: [{ title: 'Write P500', output: 'G4 P500\nG82 X1. Z-3. R2. P2 F100\nG80\nM30' }],
        },
        {
          message: 'short',
          says: ['P2 of G82 waits only 0.002 s'],
          fixes: [{ title: 'Write P2000', output: 'G4 P0.5\nG82 X1. Z-3. R2. P2000 F100\nG80\nM30' }],
        },
      ],
    },
  ],
});
