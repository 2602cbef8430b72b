import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import { closingRemark } from '../../blocks/markers.ts';

const BODY = ['G0 X5.', 'G0 Z10.'];
const OPEN = '( BLOCKWRIGHT-BLOCK HELICAL-BORE BORE=20 TOOL=10 )';
const CLOSE = `( ${closingRemark('helical-bore', { bore: '20', tool: '10' }, BODY)} )`;
const WITH = '( BLOCKWRIGHT-WITH TOOL=10 )';
const marks = (text: string): string => '^'.repeat(text.length);
const removed = (output: string): { title: string; output: string }[] => [{ title: 'Take this remark out', output }];

testRule('marker-broken', {
  quiet: [
    { program: `G21 G90\n${OPEN}\n${BODY.join('\n')}\n${CLOSE}\nM30` },
    { program: `G21 G90\n${OPEN}\nG0 X7.\n${CLOSE}\n${OPEN}\nG0 X8.\n${CLOSE}\nM30` },
    { program: `G21 G90\n( BLOCKWRIGHT-BLOCK HELICAL-BORE BORE=20 )\n${WITH}\nG0 X7.\n${CLOSE}\nM30` },
    // A remark that only speaks of blocks.
    { program: 'G21 G90\n( BLOCKWRIGHT BLOCKS ARE MARKED )\nG0 X7.\nM30' },
    // Behind the end of the program, and in lines that are never reached.
    { program: `G21 G90\nGOTO 5\n${OPEN}\nG0 X7.\n${CLOSE}\nN5 M30`, profile: 'iso-macro' },
    { program: `G21 G90\nM30\n${OPEN}\nG0 X7.\n${CLOSE}` },
    // In a loop each pass tells of the same remarks.
    {
      program: `G21 G90\n#1=0\nWHILE [#1 LT 3] DO1\n${OPEN}\nG0 X7.\n${CLOSE}\n#1=#1+1\nEND1\nM30`,
      profile: 'iso-macro',
    },
  ],
  reports: [
    {
      program: `G21 G90\n${OPEN}\n${marks(OPEN)}\nG0 X5.\nM30`,
      findings: [{ message: 'no-end', fixes: removed('G21 G90\nG0 X5.\nM30') }],
    },
    {
      program: `G21 G90\n${OPEN}\n${marks(OPEN)}\n${WITH}\nG0 X5.\nM30`,
      findings: [{ message: 'no-end', fixes: removed('G21 G90\nG0 X5.\nM30') }],
    },
    {
      // The first of two opening remarks is alone.
      program: `G21 G90\n${OPEN}\n${marks(OPEN)}\nG0 X5.\n${OPEN}\nG0 X6.\n${CLOSE}\nM30`,
      findings: [{ message: 'no-end', fixes: removed(`G21 G90\nG0 X5.\n${OPEN}\nG0 X6.\n${CLOSE}\nM30`) }],
    },
    {
      program: `G21 G90\nG0 X5.\n${CLOSE}\n${marks(CLOSE)}\nM30`,
      findings: [{ message: 'no-start', fixes: removed('G21 G90\nG0 X5.\nM30') }],
    },
    {
      program: `G21 G90\n${OPEN}\nG0 X5.\n${WITH}\n${marks(WITH)}\n${CLOSE}\nM30`,
      findings: [{ message: 'no-start', fixes: removed(`G21 G90\n${OPEN}\nG0 X5.\n${CLOSE}\nM30`) }],
    },
    {
      program: `G21 G90\n${OPEN}\nG0 X5.\n${CLOSE.replace('BORE', 'BOSS')}\n${marks(CLOSE)}\nM30`,
      findings: [{ message: 'other-name', says: ['HELICAL-BOSS'], fixes: removed(`G21 G90\n${OPEN}\nG0 X5.\nM30`) }],
    },
    {
      program: `G21 G90\n${OPEN.replace('=20', ' 20')}\n${marks(OPEN)}\nG0 X5.\n${CLOSE}\nM30`,
      findings: [{ message: 'unreadable' }],
    },
    {
      program: `G21 G90\n${OPEN}\nG0 X5.\n( BLOCKWRIGHT-END HELICAL-BORE )\n${'^'.repeat(32)}\nM30`,
      findings: [{ message: 'no-check' }],
    },
    {
      // As the last line, with nothing behind it.
      program: `G21 G90\nG0 X5. ${OPEN}\n       ${marks(OPEN)}`,
      findings: [{ message: 'no-end', fixes: removed('G21 G90\nG0 X5.') }],
    },
  ],
});
