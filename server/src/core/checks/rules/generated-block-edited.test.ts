import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import { closingRemark } from '../../blocks/markers.ts';

const BODY = ['G0 X5.', 'G1 Z-1. F100', 'G0 Z10.'];
const RAW = { bore: '20', tool: '10' };
const OPEN = '( BLOCKWRIGHT-BLOCK HELICAL-BORE BORE=20 TOOL=10 )';
const CLOSE = `( ${closingRemark('helical-bore', RAW, BODY)} )`;

const block = (body: readonly string[], open = OPEN, close = CLOSE): string => [open, ...body, close].join('\n');
const MARK = '^'.repeat(OPEN.length);
const dropped = (body: readonly string[]): { title: string; output: string }[] => [
  { title: 'Drop the marker', output: `G21 G90\n${body.join('\n')}\nM30` },
];

testRule('generated-block-edited', {
  quiet: [
    { program: `G21 G90\n${block(BODY)}\nM30` },
    // Block numbers, spacing, small letters and empty lines are no change.
    { program: `G21 G90\n${block(['N10 G0X5.', '', 'n20 g1 z-1. f100', 'G0  Z10.'])}\nM30` },
    { program: `G21 G90\n${block(BODY, OPEN.toLowerCase(), CLOSE.toLowerCase())}\nM30` },
    {
      program: `G21 G90\n${block(BODY, '; BLOCKWRIGHT-BLOCK HELICAL-BORE BORE=20 TOOL=10')}\nM30`,
      profile: 'rs274ngc',
    },
    // Values on two lines.
    {
      program: `G21 G90\n${block(BODY, '( BLOCKWRIGHT-BLOCK HELICAL-BORE BORE=20 )\n( BLOCKWRIGHT-WITH TOOL=10 )')}\nM30`,
    },
    // Broken markers are another rule's.
    { program: `G21 G90\n${OPEN}\nG0 X5.\nM30` },
    { program: `G21 G90\n${block(['G0 X6.'], OPEN, '( BLOCKWRIGHT-END HELICAL-BORE )')}\nM30` },
    // Behind the block everything may change.
    { program: `G21 G90\n${block(BODY)}\nG0 X77.\nM30` },
  ],
  reports: [
    {
      program: `G21 G90\n${OPEN}\n${MARK}\nG0 X5.\nG1 Z-1. F120\nG0 Z10.\n${CLOSE}\nM30`,
      findings: [{ message: 'body', fixes: dropped(['G0 X5.', 'G1 Z-1. F120', 'G0 Z10.']) }],
    },
    {
      program: `G21 G90\n${OPEN}\n${MARK}\nG0 X5.\nG0 Z10.\n${CLOSE}\nM30`,
      findings: [{ message: 'body', fixes: dropped(['G0 X5.', 'G0 Z10.']) }],
    },
    {
      program: `G21 G90\n${OPEN.replace('20', '22')}\n${MARK}\n${BODY.join('\n')}\n${CLOSE}\nM30`,
      findings: [{ message: 'values', fixes: dropped(BODY) }],
    },
    {
      program: `G21 G90\n${OPEN.replace('20', '22')}\n${MARK}\nG0 X6.\n${CLOSE}\nM30`,
      findings: [{ message: 'both', fixes: dropped(['G0 X6.']) }],
    },
    {
      // The check value of the values is lost, that of the body is not.
      program: `G21 G90\n${OPEN}\n${MARK}\nG0 X6.\n${CLOSE.replace(/ FOR=\w+/, '')}\nM30`,
      findings: [{ message: 'body', fixes: dropped(['G0 X6.']) }],
    },
    {
      // Two lines of values go, and the words beside a remark stay.
      program: `G21 G90\nG17 ( BLOCKWRIGHT-BLOCK HELICAL-BORE BORE=20 )\n    ${'^'.repeat(42)}\n( BLOCKWRIGHT-WITH TOOL=10 )\nG0 X6.\nM9 ${CLOSE}`,
      findings: [{ message: 'body', fixes: [{ title: 'Drop the marker', output: 'G21 G90\nG17\nG0 X6.\nM9' }] }],
    },
  ],
});
