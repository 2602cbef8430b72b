import { describe, expect, it } from 'vitest';
import { contextUnder, makeBlock } from '../../../../tests/harness/blocks.ts';
import type { ToolRow } from '../machine/configuration.ts';
import { DEFAULT_PROFILE, PROFILES } from '../machine/profile.ts';
import type { BlockContext } from './context.ts';

type Raw = Readonly<Record<string, string | number>>;

const DRILL = { 'drill.diameter': 10, 'drill.depth': 30, speed: 800, feed: 100 };
const chain = (second: string, more: Raw): Raw => ({
  ...DRILL,
  operations: `drill,${second}`,
  [`${second}.tool-number`]: 2,
  [`${second}.speed`]: 300,
  ...(second === 'tap' ? {} : { [`${second}.feed`]: 40 }),
  ...more,
});
const row = (more: Raw): Raw => ({ ...DRILL, pattern: 'row', count: 4, spacing: 20, ...more });
const circle = (more: Raw): Raw => ({ ...DRILL, pattern: 'circle', count: 6, radius: 30, ...more });

interface Refusal {
  readonly what: string;
  readonly parameter: string;
  readonly refused: Raw;
  /** What works, just beside it. */
  readonly taken: Raw;
  /** A part of the message: the number that decides, or what to do. */
  readonly says: string;
  readonly context?: BlockContext;
}

const PLACES: readonly Refusal[] = [
  {
    what: 'a row without a count',
    parameter: 'count',
    refused: { ...DRILL, pattern: 'row', spacing: 20 },
    taken: row({}),
    says: 'such as 6',
  },
  {
    what: 'a row of two counts',
    parameter: 'count',
    refused: row({ count: '4,3' }),
    taken: row({ count: '4' }),
    says: 'grid',
  },
  {
    what: 'a row without spacing',
    parameter: 'spacing',
    refused: { ...DRILL, pattern: 'row', count: 4 },
    taken: row({}),
    says: 'such as 10',
  },
  {
    what: 'a spacing of nothing',
    parameter: 'spacing',
    refused: row({ spacing: 0 }),
    taken: row({ spacing: 0.1 }),
    says: 'spacing',
  },
  {
    what: 'a circle without radius',
    parameter: 'radius',
    refused: { ...DRILL, pattern: 'circle', count: 6 },
    taken: circle({}),
    says: 'bolt circle',
  },
  {
    what: 'a sweep of 0',
    parameter: 'sweep',
    refused: circle({ sweep: 0 }),
    taken: circle({ sweep: 0, count: 1 }),
    says: 'all 6 holes',
  },
  {
    what: 'a frame that is a row',
    parameter: 'count',
    refused: row({ pattern: 'frame', count: '1,5' }),
    taken: row({ pattern: 'frame', count: '2,5' }),
    says: '1 by 5',
  },
  {
    what: 'more holes than a block takes',
    parameter: 'count',
    refused: row({ pattern: 'grid', count: '3,667' }),
    taken: row({ pattern: 'grid', count: '4,500' }),
    says: '2001 holes',
  },
  {
    what: 'one place twice',
    parameter: 'at',
    refused: { ...DRILL, at: '1,1;30,0;1,1.005' },
    taken: { ...DRILL, at: '1,1;30,0;1,1.02' },
    says: 'Holes 1 and 3',
  },
  {
    what: 'a repeated pattern on itself',
    parameter: 'spacing',
    refused: row({ at: '0,0;60,0' }),
    taken: row({ at: '0,0;0,50' }),
    says: 'Holes 4 and 5',
  },
];

const CHAIN: readonly Refusal[] = [
  {
    what: 'an operation twice',
    parameter: 'operations',
    refused: { ...DRILL, operations: 'drill,drill' },
    taken: DRILL,
    says: 'twice',
  },
  {
    what: 'an order that does not work',
    parameter: 'operations',
    refused: { ...chain('ream', { 'ream.diameter': 10.2 }), operations: 'ream,drill' },
    taken: chain('ream', { 'ream.diameter': 10.2 }),
    says: 'Write drill,ream',
  },
  {
    what: 'a second operation without a tool number',
    parameter: 'ream.tool-number',
    refused: chain('ream', { 'ream.diameter': 10.2, 'ream.tool-number': '' }),
    taken: chain('ream', { 'ream.diameter': 10.2 }),
    says: 'only drill, which comes first',
  },
  {
    what: 'one tool for two operations',
    parameter: 'ream.tool-number',
    refused: chain('ream', { 'ream.diameter': 10.2, 'drill.tool-number': 2 }),
    taken: chain('ream', { 'ream.diameter': 10.2, 'drill.tool-number': 1 }),
    says: 'Tool 2 is both',
  },
  {
    what: 'a drill of no diameter',
    parameter: 'drill.diameter',
    refused: { ...DRILL, 'drill.diameter': '' },
    taken: DRILL,
    says: 'missing',
  },
  {
    what: 'a drill of no depth',
    parameter: 'drill.depth',
    refused: { ...DRILL, 'drill.depth': '' },
    taken: DRILL,
    says: 'full diameter',
  },
  {
    what: 'a drill without speed or material',
    parameter: 'drill.speed',
    refused: { ...DRILL, speed: '' },
    taken: { ...DRILL, speed: '', material: 'steel' },
    says: 'Drill: Speed',
  },
];

const OPERATIONS: readonly Refusal[] = [
  {
    what: 'a reamer as wide as the drill',
    parameter: 'ream.diameter',
    refused: chain('ream', { 'ream.diameter': 10 }),
    taken: chain('ream', { 'ream.diameter': 10.001 }),
    says: 'cuts nothing',
  },
  {
    what: 'a reamer into the drill’s point',
    parameter: 'ream.depth',
    refused: chain('ream', { 'ream.diameter': 10.2, 'ream.depth': 30.001 }),
    taken: chain('ream', { 'ream.diameter': 10.2, 'ream.depth': 30 }),
    says: '30 mm or less',
  },
  {
    what: 'a bar as wide as the drill',
    parameter: 'bore.diameter',
    refused: chain('bore', { 'bore.diameter': 10 }),
    taken: chain('bore', { 'bore.diameter': 10.001 }),
    says: 'narrower than 10 mm',
  },
  {
    what: 'a bar too far off its wall',
    parameter: 'bore.shift',
    refused: chain('bore', { 'bore.diameter': 12, 'bore.cycle': 76, 'bore.shift': 1.201 }),
    taken: chain('bore', { 'bore.diameter': 12, 'bore.cycle': 76, 'bore.shift': 1.2 }),
    says: '1.2 mm or less',
  },
  {
    what: 'G76 where the control has none',
    parameter: 'bore.cycle',
    refused: chain('bore', { 'bore.diameter': 12, 'bore.cycle': 76 }),
    taken: chain('bore', { 'bore.diameter': 12, 'bore.cycle': 86 }),
    says: '85, 86 or 89',
    context: contextUnder(PROFILES.rs274ngc),
  },
  {
    what: 'a countersink no wider than the hole',
    parameter: 'countersink.diameter',
    refused: chain('countersink', { 'countersink.diameter': 10 }),
    taken: chain('countersink', { 'countersink.diameter': 10.001 }),
    says: 'more than 10 mm',
  },
  {
    what: 'a countersink whose flat is wider than the hole',
    parameter: 'countersink.tip',
    refused: chain('countersink', { 'countersink.diameter': 20, 'countersink.tip': 10.1 }),
    taken: chain('countersink', { 'countersink.diameter': 20, 'countersink.tip': 10 }),
    says: '10 mm or less',
  },
  {
    what: 'a countersink with no cone',
    parameter: 'countersink.tip',
    refused: chain('countersink', { 'countersink.diameter': 20, 'countersink.tip': 20 }),
    taken: chain('countersink', { 'countersink.diameter': 20, 'countersink.tip': 8 }),
    says: 'no cone',
  },
  {
    // The drill's tip is at 30 + 10/(2·tan 59°) = 33.004.
    what: 'a countersink deeper than the hole',
    parameter: 'countersink.diameter',
    refused: chain('countersink', { 'countersink.diameter': 66.1 }),
    taken: chain('countersink', { 'countersink.diameter': 66 }),
    says: '33.004 mm',
  },
  {
    // The 45° cone is as wide as the hole at (22 − 10)/2 = 6.
    what: 'a countersink through a counterbore’s floor',
    parameter: 'countersink.diameter',
    refused: { ...chain('countersink', { 'countersink.diameter': 22 }), ...counterbored(5.99) },
    taken: { ...chain('countersink', { 'countersink.diameter': 22 }), ...counterbored(6) },
    says: 'floor at 5.99 mm',
  },
  {
    what: 'a countersink that the counterbore takes away',
    parameter: 'countersink.diameter',
    refused: { ...chain('countersink', { 'countersink.diameter': 18 }), ...counterbored(8) },
    taken: { ...chain('countersink', { 'countersink.diameter': 18.5 }), ...counterbored(8) },
    says: 'counterbore of 18 mm',
  },
  {
    what: 'a counterbore no wider than the hole',
    parameter: 'counterbore.diameter',
    refused: chain('counterbore', { 'counterbore.diameter': 10, 'counterbore.depth': 5 }),
    taken: chain('counterbore', { 'counterbore.diameter': 10.001, 'counterbore.depth': 5 }),
    says: 'more than 10 mm',
  },
  {
    what: 'a counterbore as deep as the hole',
    parameter: 'counterbore.depth',
    refused: chain('counterbore', { 'counterbore.diameter': 18, 'counterbore.depth': 30 }),
    taken: chain('counterbore', { 'counterbore.diameter': 18, 'counterbore.depth': 29.999 }),
    says: 'less than 30 mm',
  },
  {
    what: 'a spot deeper than the hole',
    parameter: 'spot.diameter',
    refused: {
      ...DRILL,
      operations: 'spot,drill',
      'spot.tool-number': 1,
      'drill.tool-number': 2,
      'drill.speed': 800,
      'spot.angle': 90,
      'spot.diameter': 66.1,
    },
    taken: {
      ...DRILL,
      operations: 'spot,drill',
      'spot.tool-number': 1,
      'drill.tool-number': 2,
      'drill.speed': 800,
      'spot.angle': 90,
      'spot.diameter': 66,
    },
    says: '33.004 mm',
  },
  {
    what: 'a tap into the drill’s point',
    parameter: 'drill.depth',
    // 25.5 of full thread and a lead of 3 × 1.5 go to 30.
    refused: chain('tap', {
      'drill.diameter': '',
      'tap.thread': 'M10',
      'tap.holder': 'synchronised',
      'tap.depth': 25.6,
    }),
    taken: chain('tap', { 'drill.diameter': '', 'tap.thread': 'M10', 'tap.holder': 'synchronised', 'tap.depth': 25.5 }),
    says: 'the tap breaks',
  },
  {
    what: 'a hole as wide as the thread',
    parameter: 'drill.diameter',
    refused: chain('tap', { 'tap.thread': 'M10', 'tap.holder': 'synchronised', 'tap.depth': 20 }),
    taken: chain('tap', { 'tap.thread': 'M10', 'tap.holder': 'synchronised', 'tap.depth': 20, 'drill.diameter': 9 }),
    says: 'Take 8.5 mm',
  },
  {
    // 1.299·1.5 = 1.9485 is the whole height.
    what: 'a hole narrower than the thread’s core',
    parameter: 'drill.diameter',
    refused: chain('tap', {
      'tap.thread': 'M10',
      'tap.holder': 'synchronised',
      'tap.depth': 20,
      'drill.diameter': 8.05,
    }),
    taken: chain('tap', { 'tap.thread': 'M10', 'tap.holder': 'synchronised', 'tap.depth': 20, 'drill.diameter': 8.06 }),
    says: 'Take 8.5 mm',
  },
  {
    what: 'a tap of no thread',
    parameter: 'tap.thread',
    refused: chain('tap', { 'tap.depth': 20, 'drill.diameter': 8.5, 'tap.holder': 'float' }),
    taken: chain('tap', { 'tap.depth': 20, 'drill.diameter': 8.5, 'tap.thread': 'M10', 'tap.holder': 'synchronised' }),
    says: 'such as M6',
  },
];

function counterbored(depth: number): Raw {
  return {
    operations: 'drill,counterbore,countersink',
    'counterbore.tool-number': 3,
    'counterbore.speed': 300,
    'counterbore.feed': 30,
    'counterbore.diameter': 18,
    'counterbore.depth': depth,
  };
}

describe.each([
  ['places', PLACES],
  ['chain', CHAIN],
  ['operations', OPERATIONS],
] as const)('refused: %s', (_, refusals) => {
  it.each(refusals.map((refusal) => [refusal.what, refusal] as const))('%s', (_what, refusal) => {
    const { parameter, refused, taken, says, context = contextUnder(DEFAULT_PROFILE) } = refusal;
    const result = makeBlock('holes', refused, context);
    expect(result.lines).toBeUndefined();
    expect(result.problems.map((problem) => problem.parameter)).toContain(parameter);
    expect(result.problems.map(({ message }) => message).join('\n')).toContain(says);
    expect(makeBlock('holes', taken, context).problems).toEqual([]);
  });
});

interface Caution {
  readonly what: string;
  readonly parameter: string;
  readonly told: Raw;
  readonly silent: Raw;
}

const tool = (more: Partial<ToolRow>): ToolRow => ({ number: 7, kind: 'drill', diameter: 10, ...more });
const T7 = { ...DRILL, 'drill.tool-number': 7 };

const CAUTIONS: readonly Caution[] = [
  {
    what: 'holes that run into each other',
    parameter: 'spacing',
    told: row({ spacing: 9.9 }),
    silent: row({ spacing: 10 }),
  },
  {
    what: 'a value that the pattern does not use',
    parameter: 'radius',
    told: row({ radius: 5 }),
    silent: row({ angle: 5 }),
  },
  {
    what: 'a deep hole without pecks',
    parameter: 'drill.peck',
    told: { ...DRILL, 'drill.depth': 51, 'drill.peck': 0 },
    silent: { ...DRILL, 'drill.depth': 50, 'drill.peck': 0 },
  },
  {
    what: 'a peck that is none',
    parameter: 'drill.peck',
    told: { ...DRILL, 'drill.peck': 36 },
    silent: { ...DRILL, 'drill.peck': 35 },
  },
  {
    what: 'a spot that is steeper than the drill',
    parameter: 'spot.angle',
    told: {
      ...DRILL,
      operations: 'spot,drill',
      'spot.tool-number': 1,
      'drill.tool-number': 2,
      'drill.speed': 800,
      'spot.angle': 117,
    },
    silent: {
      ...DRILL,
      operations: 'spot,drill',
      'spot.tool-number': 1,
      'drill.tool-number': 2,
      'drill.speed': 800,
      'spot.angle': 118,
    },
  },
  {
    what: 'a reamer with too much to take',
    parameter: 'ream.diameter',
    told: chain('ream', { 'ream.diameter': 10.51 }),
    silent: chain('ream', { 'ream.diameter': 10.5 }),
  },
  {
    what: 'a reamer with too little to take',
    parameter: 'ream.diameter',
    told: chain('ream', { 'ream.diameter': 10.04 }),
    silent: chain('ream', { 'ream.diameter': 10.05 }),
  },
  {
    what: 'little room for chips below the tap',
    parameter: 'drill.depth',
    told: chain('tap', { 'drill.diameter': '', 'tap.thread': 'M10', 'tap.holder': 'synchronised', 'tap.depth': 23.3 }),
    silent: chain('tap', {
      'drill.diameter': '',
      'tap.thread': 'M10',
      'tap.holder': 'synchronised',
      'tap.depth': 23.2,
    }),
  },
  {
    what: 'a wide hole for the thread',
    parameter: 'drill.diameter',
    // Half of 1.9485 below 10.
    told: chain('tap', { 'tap.thread': 'M10', 'tap.holder': 'synchronised', 'tap.depth': 20, 'drill.diameter': 9.03 }),
    silent: chain('tap', {
      'tap.thread': 'M10',
      'tap.holder': 'synchronised',
      'tap.depth': 20,
      'drill.diameter': 9.02,
    }),
  },
];

describe('taken with a word', () => {
  const context = contextUnder(DEFAULT_PROFILE);

  it.each(CAUTIONS.map((caution) => [caution.what, caution] as const))('%s', (_, { parameter, told, silent }) => {
    const result = makeBlock('holes', told, context);
    expect(result.problems).toEqual([]);
    expect(result.words.map((word) => word.parameter)).toEqual([parameter]);
    expect(makeBlock('holes', silent, context).words).toEqual([]);
  });

  it.each([
    ['another kind of tool', 'drill.tool-number', tool({ kind: 'end-mill' }), tool({})],
    ['another diameter', 'drill.diameter', tool({ diameter: 10.2 }), tool({ diameter: 10.005 })],
    ['flutes shorter than the hole', 'drill.tool-number', tool({ fluteLength: 33 }), tool({ fluteLength: 34 })],
  ] as const)('%s in the tool table', (_, parameter, wrong, right) => {
    const words = (row7: ToolRow): unknown[] =>
      makeBlock('holes', T7, contextUnder(DEFAULT_PROFILE, 'mm', { tools: [row7] })).words.map(
        (word) => word.parameter,
      );
    expect(words(wrong)).toEqual([parameter]);
    expect(words(right)).toEqual([]);
  });
});

it('a tool that is in the spindle is not called for the next operation too', () => {
  const alone = contextUnder(PROFILES.iso);
  const tool = { number: 2, kind: 'drill', diameter: 10, row: undefined, description: 'DRILL D10' } as const;
  const raw = chain('ream', { 'ream.diameter': 10.2 });
  expect(makeBlock('holes', raw, { ...alone, tool: { ...tool, number: 1 } }).problems).toEqual([]);
  expect(makeBlock('holes', raw, { ...alone, tool }).problems).toEqual([
    {
      parameter: 'ream.tool-number',
      message: 'Tool 2 is both for drill and for ream. Give each its own number.',
    },
  ]);
});
