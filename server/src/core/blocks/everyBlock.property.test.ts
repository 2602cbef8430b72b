/** Blocks of every kind with random values, under every profile, in a whole program: the checks have nothing to say of them. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeBlock } from '../../../../tests/harness/blocks.ts';
import { GrowingProgram, type Raw } from '../../../../tests/harness/growingProgram.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { PROFILES } from '../machine/profile.ts';
import { BLOCKS } from './registry.ts';

const SEED = 20261128;

/** Findings that a block may raise, each with its reason. */
const EXCEPTIONS: readonly {
  readonly rule: string;
  readonly reason: string;
  when(kind: string, raw: Raw): boolean;
}[] = [
  {
    rule: 'tap-feed-mismatch',
    reason:
      'A feed held back by more than 1 % is asked about where no table says that the holder gives; the form tells it.',
    when: (kind, raw) => kind === 'tapping' && raw.holder !== 'synchronised' && Number(raw['infeed-percent']) < 99,
  },
];
/** Rules whose exception was needed. */
const excepted = new Set<string>();

const tenths = (least: number, most: number) => fc.integer({ min: least * 10, max: most * 10 }).map((n) => n / 10);
const direction = fc.constantFrom('climb', 'conventional');
const milling = { speed: fc.integer({ min: 500, max: 4000 }), feed: fc.integer({ min: 60, max: 900 }) };
const tapping = {
  thread: fc.constantFrom('M4', 'M6', 'M8X1', 'M10', 'M12 LH', '1/4-20 UNC', '#10-32 UNF'),
  depth: tenths(6, 20),
  speed: fc.integer({ min: 100, max: 700 }),
  holder: fc.constantFrom('synchronised', 'float', 'reversing'),
  hole: fc.constantFrom('blind', 'through'),
  float: fc.constant(8),
  ratio: fc.constantFrom(1, 1.75, 2),
  'self-feed': tenths(1.5, 4),
  'free-up': tenths(0, 8),
};
const drilling = {
  'drill.diameter': tenths(3, 12),
  'drill.depth': tenths(3, 60),
  'drill.feed': fc.integer({ min: 40, max: 200 }),
};
/** Names with a prefix. */
const within = (prefix: string, all: Record<string, fc.Arbitrary<unknown>>): Record<string, fc.Arbitrary<unknown>> =>
  Object.fromEntries(Object.entries(all).map(([name, one]) => [`${prefix}.${name}`, one]));

/** Random values of each kind, and the tool's remark that fits them. */
const KINDS: Readonly<Record<string, { tool(raw: Raw): string; values: Record<string, fc.Arbitrary<unknown>> }>> = {
  tapping: {
    tool: ({ thread }) => `TAP ${thread}`,
    values: {
      ...tapping,
      'feed-per': fc.constantFrom('minute', 'turn'),
      'infeed-percent': fc.constantFrom(97, 100, 100),
    },
  },
  holes: {
    tool: (raw) => `DRILL D${raw['drill.diameter']}`,
    values: {
      ...drilling,
      'drill.speed': fc.integer({ min: 300, max: 3000 }),
      'drill.through': fc.constantFrom('yes', 'no'),
      pattern: fc.constantFrom('row', 'circle'),
      count: fc.integer({ min: 2, max: 6 }),
      spacing: tenths(25, 40),
      radius: fc.constant(60),
      between: fc.constantFrom('retract', 'clearance'),
    },
  },
  'helical-bore': {
    tool: ({ tool }) => `END MILL D${tool} 4FL`,
    values: {
      ...milling,
      tool: fc.constantFrom(10, 12, 16),
      bore: tenths(20, 26),
      depth: tenths(2, 20),
      passes: fc.constantFrom(1, 2),
      through: fc.constantFrom('yes', 'no'),
      form: fc.constantFrom('turns', 'multi-turn'),
      direction,
    },
  },
  'helical-boss': {
    tool: ({ tool }) => `END MILL D${tool} 4FL`,
    values: {
      ...milling,
      tool: fc.constantFrom(10, 16),
      boss: tenths(15, 40),
      stock: tenths(42, 50),
      depth: tenths(2, 12),
      direction,
    },
  },
  'clear-tap': {
    tool: ({ tool }) => `END MILL D${tool} 4FL`,
    values: {
      thread: fc.constantFrom('M5', 'M6'),
      tool: fc.constantFrom(2.5, 3),
      'broken-at': tenths(0, 4),
      length: tenths(1, 4),
      speed: fc.integer({ min: 4000, max: 6000 }),
      feed: fc.integer({ min: 50, max: 120 }),
      stop: fc.constantFrom('always', 'optional'),
    },
  },
  'thread-mill': {
    tool: ({ tool }) => `THREAD MILL D${tool}`,
    values: {
      ...milling,
      thread: fc.constantFrom('M12', 'M16', 'M20', 'M20 LH', 'M20X1.5'),
      tool: fc.constantFrom(8, 9),
      depth: tenths(5, 15),
      hole: fc.constantFrom('blind', 'through'),
      direction,
    },
  },
  'round-pocket': {
    tool: ({ tool }) => `END MILL D${tool} 4FL`,
    values: {
      ...milling,
      tool: fc.constantFrom(8, 12),
      diameter: tenths(26, 60),
      depth: tenths(1, 10),
      entry: fc.constantFrom('helix', 'ramp'),
      direction,
    },
  },
  'rectangular-pocket': {
    tool: ({ tool }) => `END MILL D${tool} 4FL`,
    values: {
      ...milling,
      tool: fc.constantFrom(8, 12),
      length: tenths(50, 80),
      width: tenths(30, 50),
      angle: fc.integer({ min: -90, max: 90 }),
      depth: tenths(1, 8),
      direction,
    },
  },
  slot: {
    tool: ({ tool }) => `END MILL D${tool} 3FL`,
    values: {
      ...milling,
      tool: fc.constantFrom(8, 10),
      length: tenths(30, 60),
      width: tenths(12, 15),
      depth: tenths(1, 8),
      direction,
    },
  },
  face: {
    tool: ({ tool }) => `FACE MILL D${tool}`,
    values: {
      ...milling,
      tool: fc.constantFrom(40, 63),
      length: tenths(60, 150),
      width: tenths(30, 90),
      depth: tenths(0.5, 2),
      direction,
    },
  },
  chamfer: {
    tool: ({ tool }) => `CHAMFER MILL D${tool} 90DEG`,
    values: {
      ...milling,
      tool: fc.constantFrom(10, 12),
      diameter: tenths(30, 60),
      size: tenths(0.5, 2),
      side: fc.constantFrom('internal', 'external'),
      direction,
    },
  },
};

/** A chain of operations, each with its own tool. */
const chain = fc
  .record({
    ...drilling,
    ...within('tap', { ...tapping, thread: fc.constantFrom('M4', 'M6', 'M8'), hole: fc.constant('blind') }),
    operations: fc.constantFrom(
      'spot,drill',
      'drill,tap',
      'spot,drill,tap',
      'drill,countersink,tap',
      'drill,ream',
      'spot,tap',
    ),
    pattern: fc.constantFrom('grid', 'frame'),
    count: fc.constantFrom('2,3', '3,2'),
    spacing: tenths(25, 40),
    'tool-number': fc.constant(11),
    'drill.tool-number': fc.constant(12),
    'countersink.tool-number': fc.constant(13),
    'ream.tool-number': fc.constant(14),
    'tap.tool-number': fc.constant(15),
  })
  .map((raw): Raw => {
    const all = raw as Record<string, string | number>;
    const operations = String(all.operations).split(',');
    const isTapped = operations.includes('tap');
    const own = Object.entries(all).filter(([name]) => {
      const [operation, rest] = name.split('.');
      if (rest === undefined) return true;
      // The first operation has the block's own tool; the drill of a thread follows from it.
      if (!operations.includes(operation) || (rest === 'tool-number' && operation === operations[0])) return false;
      return !(isTapped && (name === 'drill.diameter' || name === 'drill.depth'));
    });
    const more = operations.flatMap((operation): [string, string | number][] => [
      ...(operation === 'tap'
        ? []
        : [[`${operation}.speed`, 700] as [string, number], [`${operation}.feed`, 80] as [string, number]]),
      ...(operation === 'countersink' ? [['countersink.diameter', 11] as [string, number]] : []),
      ...(operation === 'ream' ? [['ream.diameter', Number(all['drill.diameter']) + 0.2] as [string, number]] : []),
      ...(operation === 'spot' ? [['spot.diameter', 9] as [string, number]] : []),
    ]);
    return Object.fromEntries([...own, ...more]);
  });

const place = fc.record({
  profile: fc.constantFrom(...Object.keys(PROFILES)),
  units: fc.constantFrom('mm', 'inch'),
  coolant: fc.constantFrom(undefined, 'flood', 'mist', 'none'),
  before: fc.constantFrom('flood', 'none'),
  numbered: fc.boolean(),
  isCalled: fc.boolean(),
});
type Circumstances = typeof place extends fc.Arbitrary<infer T> ? T : never;

/** What the checks say of a program with one block; undefined where the values are refused. */
const saidOf = (kind: string, tool: string, values: Raw, where: Circumstances): string[] | undefined => {
  const { profile, units, coolant, before, numbered, isCalled } = where;
  const configuration: Configuration = {
    ...DEFAULT_CONFIGURATION,
    profile: PROFILES[profile],
    blockNumbers: { write: numbered, start: 10, step: 10 },
  };
  const raw: Raw = {
    ...values,
    ...(coolant === undefined ? {} : { coolant }),
    ...(isCalled ? { 'tool-number': 11 } : {}),
  };
  const speed = Number(raw.speed ?? raw['drill.speed'] ?? 700);
  const program = new GrowingProgram(configuration)
    .add('start', { units })
    .add('tool-section', { 'tool-number': 3, title: isCalled ? 'PLUG' : tool, speed, coolant: before });
  const { lines } = makeBlock(kind, raw, program.here());
  if (lines === undefined) return undefined;
  program.lines.push(...lines);
  const allowed = EXCEPTIONS.filter(({ when }) => when(kind, raw)).map(({ rule }) => rule);
  const findings = program.add('end', {}).findings();
  const isExcepted = (text: string): boolean => allowed.includes(text.split(' ')[1]);
  for (const text of findings.filter(isExcepted)) excepted.add(text.split(' ')[1]);
  return findings.filter((text) => !isExcepted(text));
};

/** Runs a kind; most of the values must be taken. */
const check = (kind: string, values: fc.Arbitrary<Raw>, tool: (raw: Raw) => string, numRuns: number): void => {
  let made = 0;
  fc.assert(
    fc.property(values, place, (raw, where) => {
      const said = saidOf(kind, tool(raw), raw, where);
      if (said === undefined) return;
      made++;
      expect(said).toEqual([]);
    }),
    { seed: SEED, numRuns, endOnFailure: true },
  );
  expect(made).toBeGreaterThan(numRuns / 2);
};

describe('in every profile, in both units, with and without a tool change, whatever the coolant', () => {
  const kinds = BLOCKS.filter(({ isPart }) => isPart !== true).map(({ name }) => name);

  it.each(kinds)('%s raises no error, no warning and no hint', (kind) => {
    const { tool, values } = KINDS[kind] ?? expect.fail(`${kind} has no values here`);
    check(kind, fc.record(values) as fc.Arbitrary<Raw>, tool, 25);
  });

  it('each exception is needed', () => {
    expect([...excepted].sort()).toEqual(EXCEPTIONS.map(({ rule }) => rule).sort());
  });

  it('a chain of holes with a tool for each raises none either', () => {
    check('holes', chain, () => 'PLUG', 30);
  });
});
