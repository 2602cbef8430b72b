import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import type { Configuration, ToolRow } from '../../machine/configuration.ts';

const block = (opening: string): string =>
  `( BLOCKWRIGHT-BLOCK ${opening} )\nG0 X5.\n( BLOCKWRIGHT-END ${opening.split(' ')[0]} BODY=12345678 FOR=12345678 )`;
const marked = (opening: string, lines = 1): string => {
  const [open, ...rest] = block(opening).split('\n');
  return [open, ...Array<string>(lines).fill('^'.repeat(open.length)), ...rest].join('\n');
};
const mill = (more: Partial<ToolRow> = {}): Partial<Configuration> => ({
  tools: [{ number: 1, kind: 'end-mill', diameter: 10, ...more }],
});
const tap = (more: Partial<ToolRow> = {}): Partial<Configuration> => ({
  tools: [{ number: 4, kind: 'tap', thread: 'M6', ...more }],
});
const BORE = 'HELICAL-BORE BORE=20 TOOL=10 DEPTH=5';

testRule('generated-block-stale', {
  quiet: [
    { program: `T1 M6 (END MILL D10)\n${block(BORE)}\nM30` },
    { program: `T1 M6\n${block(BORE)}\nM30` },
    { program: `${block(BORE)}\nM30` },
    { program: `T1 M6 (END MILL D12)\n${block(BORE)}\nM30`, configuration: mill() },
    { program: `G20\nT1 M6 (END MILL 3/8)\n${block('HELICAL-BORE BORE=20 TOOL=9.525 DEPTH=5')}\nM30` },
    // The block brings its own tool, and that is right.
    { program: `T9 M6 (END MILL D6)\n${block(`${BORE} TOOL-NUMBER=1`)}\nM30`, configuration: mill() },
    { program: `T9 M6 (END MILL D6)\n${block(`${BORE} TOOL-NUMBER=3`)}\nM30`, configuration: mill() },
    // The thread of a broken tap is not the cutter's.
    {
      program: `T1 M6\n${block('CLEAR-TAP THREAD=M6 TOOL=3 BROKEN-AT=2 LENGTH=8')}\nM30`,
      configuration: mill({ diameter: 3, thread: 'M8' }),
    },
    { program: `T4 M6\n${block('TAPPING THREAD=M6 DEPTH=10')}\nM30`, configuration: tap() },
    {
      program: `T4 M6\n${block('TAPPING THREAD=M6 DEPTH=10 HOLDER=REVERSING RATIO=1.75 SELF-FEED=3')}\nM30`,
      configuration: tap({ holder: { kind: 'reversing', ratio: 1.75, selfFeed: 3 } }),
    },
    // One thread mill cuts all diameters of its pitch.
    {
      program: `T5 M6\n${block('THREAD-MILL THREAD=M20X1.5 TOOL=12 DEPTH=10')}\nM30`,
      configuration: { tools: [{ number: 5, kind: 'thread-mill', diameter: 12, thread: 'M16X1.5' }] },
    },
    // A blank elsewhere.
    {
      program: `T1 M6\nG54\n${block('HELICAL-BOSS BOSS=30 TOOL=10 STOCK=50 DEPTH=5 AT=80,0')}\nM30`,
      configuration: {
        stock: { offset: 'G54', shape: 'cylinder', diameter: 60, centre: [0, 0], top: 0, bottom: -20 },
      },
    },
    // The drill is in the spindle, the tap comes later; the hand stands in the thread's name.
    {
      program: `T2 M6 (DRILL D5)\n${block('HOLES AT=5,5 OPERATIONS=DRILL,TAP DRILL.DIAMETER=5 TAP.THREAD=M6 LH TAP.TOOL-NUMBER=4')}\nM30`,
      configuration: { tools: [{ number: 4, kind: 'tap', thread: 'M6', hand: 'left' }] },
    },
    // Never reached: nobody knows which tool is in the spindle.
    { program: `T1 M6 (END MILL D8)\nGOTO 5\n${block(BORE)}\nN5 M30`, profile: 'iso-macro' },
  ],
  reports: [
    {
      program: `T1 M6 (END MILL D12)\n${marked(BORE)}\nM30`,
      findings: [{ message: 'tool-size', says: ['a diameter of 10, and tool 1 has 12'] }],
    },
    {
      program: `T1 M6\n${marked(BORE, 2)}\nM30`,
      configuration: mill({ diameter: 10.5, cornerRadius: 1 }),
      findings: [
        { message: 'tool-size', says: ['a diameter of 10, and tool 1 has 10.5'] },
        { message: 'tool-size', says: ['a corner radius of 0, and tool 1 has 1'] },
      ],
    },
    {
      program: `G20\nT9 M6\n${marked(`${BORE} TOOL-NUMBER=1`)}\nM30`,
      configuration: mill({ diameter: 12.7 }),
      findings: [{ message: 'tool-size', says: ['0.3937', 'tool 1 has 0.5'] }],
    },
    {
      program: `T4 M6\n${marked('TAPPING THREAD=M6 DEPTH=10')}\nM30`,
      configuration: tap({ thread: 'M8' }),
      findings: [{ message: 'thread', says: ['made for M6', 'tool 4 is M8'] }],
    },
    {
      program: `T4 M6 (TAP M6X0.75)\n${marked('TAPPING THREAD=M6 DEPTH=10')}\nM30`,
      findings: [{ message: 'thread' }],
    },
    {
      program: `T4 M6\n${marked('TAPPING THREAD=M6 DEPTH=10')}\nM30`,
      configuration: tap({ hand: 'left' }),
      findings: [{ message: 'hand', says: ['a right-hand tap, and tool 4 is a left-hand one'] }],
    },
    {
      program: `T4 M6\n${marked('TAPPING THREAD=M6 DEPTH=10 HOLDER=FLOAT')}\nM30`,
      configuration: tap({ holder: { kind: 'reversing', ratio: 1.75 } }),
      findings: [{ message: 'holder', says: ['made for an axial float, and tool 4 has a self-reversing head'] }],
    },
    {
      program: `T4 M6\n${marked('TAPPING THREAD=M6 DEPTH=10 HOLDER=REVERSING RATIO=1.75 SELF-FEED=3', 2)}\nM30`,
      configuration: tap({ holder: { kind: 'reversing', ratio: 1, selfFeed: 4 } }),
      findings: [
        { message: 'ratio', says: ['1.75', 'tool 4 has 1'] },
        { message: 'given-size', says: ['a self-feed of 3, and the holder of tool 4 has 4'] },
      ],
    },
    {
      program: `${marked('HOLES PATTERN=LIST AT=5,5 OPERATIONS=DRILL,TAP DRILL.DIAMETER=5 DRILL.TOOL-NUMBER=2 TAP.THREAD=M6 TAP.TOOL-NUMBER=4', 2)}\nM30`,
      configuration: {
        tools: [
          { number: 2, kind: 'drill', diameter: 6.8 },
          { number: 4, kind: 'tap', thread: 'M8' },
        ],
      },
      findings: [
        { message: 'tool-size', says: ['a diameter of 5, and tool 2 has 6.8'] },
        { message: 'thread', says: ['M6', 'tool 4 is M8'] },
      ],
    },
    {
      program: `T2 M6 (DRILL D6.8)\n${marked('HOLES AT=5,5 DRILL.DIAMETER=5 DRILL.DEPTH=10')}\nM30`,
      findings: [{ message: 'tool-size', says: ['a diameter of 5, and tool 2 has 6.8'] }],
    },
    {
      program: `T1 M6\nG54\n${marked('HELICAL-BOSS BOSS=30 TOOL=10 STOCK=50 DEPTH=5')}\nM30`,
      configuration: {
        stock: { offset: 'G54', shape: 'cylinder', diameter: 60, centre: [0, 0], top: 0, bottom: -20 },
      },
      findings: [{ message: 'given-size', says: ['a blank of 50, and blockwright.json has 60'] }],
    },
  ],
});
