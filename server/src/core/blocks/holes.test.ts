import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BatchBlock, runBatch } from '../../../../tests/harness/blockBatch.ts';
import { contextUnder, runBlock } from '../../../../tests/harness/blocks.ts';
import { notPutBack } from '../../../../tests/harness/putBack.ts';
import { Analysis } from '../checks/analysis.ts';
import type { TracedMove } from '../features/trace.ts';
import type { ToolRow } from '../machine/configuration.ts';
import { PROFILES } from '../machine/profile.ts';
import { tapDrillOf } from '../reference/tapDrills.ts';
import type { BlockContext } from './context.ts';
import { readThread } from './readValues.ts';

type Raw = Record<string, string | number>;

const SEED = 20251128;
const tenth = (least: number, most: number) =>
  fc.integer({ min: Math.round(least * 10), max: Math.round(most * 10) }).map((value) => value / 10);
const tan = (angle: number): number => Math.tan((angle * Math.PI) / 360);

/** Chains of operations as shops run them. */
const CHAINS = [
  'drill',
  'spot,drill',
  'spot,drill,countersink',
  'drill,counterbore,countersink',
  'drill,ream',
  'spot,drill,bore',
  'drill,bore,ream,countersink',
  'spot,drill,tap',
  'drill,countersink,tap',
  'drill,tap,countersink',
  'countersink',
  'ream',
  'tap',
] as const;
const THREADS = ['M3', 'M6', 'M8X1', 'M10', '1/4-20 UNC'];

const cases = fc.record({
  chain: fc.constantFrom(...CHAINS),
  thread: fc.constantFrom(...THREADS),
  diameter: tenth(1, 20),
  ratio: tenth(1, 12),
  pointAngle: fc.constantFrom(118, 118, 130, 140),
  through: fc.boolean(),
  breakout: fc.option(tenth(0, 2), { nil: undefined }),
  /** In diameters; more than the hole is deep is none. */
  pecks: fc.option(tenth(1, 14), { nil: undefined }),
  sink: tenth(1.3, 2),
  sinkAngle: fc.constantFrom(60, 82, 90, 120),
  cycle: fc.constantFrom(85, 86, 89, 76),
  between: fc.constantFrom('retract', 'clearance'),
  top: tenth(-30, 30),
  clearance: tenth(0.5, 6),
  retract: tenth(7, 40),
  cutting: tenth(15, 30),
  pattern: fc.constantFrom('list', 'row', 'grid', 'circle', 'arc', 'frame'),
  at: fc.tuple(tenth(-99, 99), tenth(-99, 99)),
  angle: fc.integer({ min: -180, max: 180 }),
  counts: fc.tuple(fc.integer({ min: 2, max: 3 }), fc.integer({ min: 2, max: 3 })),
  spacing: tenth(45, 90),
});
type Case = typeof cases extends fc.Arbitrary<infer T> ? T : never;

const settings = fc.record({
  profile: fc.constantFrom(...Object.values(PROFILES)),
  units: fc.constantFrom('mm' as const, 'inch' as const),
  distance: fc.constantFrom(90, 91),
  plane: fc.constantFrom(17, 18, 19),
  feedMode: fc.constantFrom(94, 95),
  retract: fc.constantFrom(98, 99),
  motion: fc.constantFrom(0, 10),
  feed: fc.constantFrom(undefined, 254),
  speed: fc.constantFrom(undefined, 900),
  spindle: fc.constantFrom(3, 4, 5),
  height: fc.constantFrom(undefined, 2, 60),
});
type Settings = typeof settings extends fc.Arbitrary<infer T> ? T : never;

const contextOf = ({ profile, units, ...entry }: Settings): BlockContext => {
  const context = contextUnder(profile, units);
  const feedMode = profile.withoutCodes.includes(950) ? 94 : entry.feedMode;
  return { ...context, entry: { ...context.entry, ...entry, feedMode } };
};

const operationsOf = ({ chain }: Case): string[] => chain.split(',');
const has = (one: Case, operation: string): boolean => operationsOf(one).includes(operation);
const pitchOf = (one: Case): number => readThread(one.thread)?.pitch ?? Number.NaN;

/** Diameter of the hole before a reamer, a bar or a tap: what the case says, or the tap's drill. */
const drillOf = (one: Case): number => {
  const thread = readThread(one.thread);
  return has(one, 'tap') ? ((thread && tapDrillOf(thread)?.diameter) ?? Number.NaN) : one.diameter;
};
const depthOf = (one: Case): number => Number((drillOf(one) * one.ratio + 3).toFixed(3));
const point = (one: Case): number => drillOf(one) / (2 * tan(one.pointAngle));
const peckOf = (one: Case): number => Number((drillOf(one) * (one.pecks ?? 0)).toFixed(2));
const breakoutOf = (one: Case): number => one.breakout ?? Math.min(1, Math.max(0.5, drillOf(one) / 10));
const tipOf = (one: Case): number => depthOf(one) + point(one) + (one.through ? breakoutOf(one) : 0);
const boreOf = (one: Case): number => Number((one.diameter + 0.8).toFixed(3));
const reamOf = (one: Case): number => Number(((has(one, 'bore') ? boreOf(one) : one.diameter) + 0.2).toFixed(3));
const sinkOf = (one: Case): number =>
  Number(Math.max(drillOf(one) * one.sink, has(one, 'counterbore') ? drillOf(one) * 1.8 + 0.5 : 0).toFixed(3));
/** So shallow that its lead and room for chips fit above the drill's point. */
const tapDepth = (one: Case): number => {
  const blind = depthOf(one) - 3 * pitchOf(one) - 1.5 * pitchOf(one) - 0.1;
  return Number(Math.max(0.2, one.through ? depthOf(one) : blind).toFixed(2));
};

/** A bar moves off the wall by a tenth of its bore at most, and the report has no G76. */
const canBeMade = ({ profile }: Settings, one: Case): boolean =>
  (profile.name !== 'rs274ngc' || one.cycle !== 76 || !has(one, 'bore')) &&
  (!has(one, 'tap') || one.through || depthOf(one) > 4.7 * pitchOf(one)) &&
  (!has(one, 'countersink') || !has(one, 'drill') || sinkOf(one) / (2 * tan(one.sinkAngle)) < tipOf(one)) &&
  (!has(one, 'spot') || (1.1 * Math.max(drillOf(one), 10) + 1) / 2 / tan(140) < tipOf(one)) &&
  (one.cycle !== 76 || one.diameter > 2.5) &&
  (!has(one, 'counterbore') || floorOf(one) > (sinkOf(one) - one.diameter) / (2 * tan(one.sinkAngle)) + 0.01);

const floorOf = (one: Case): number => Number((depthOf(one) * 0.8).toFixed(2));

const patternOf = (one: Case): Raw => {
  const at = one.at.join(',');
  const { angle, spacing } = one;
  switch (one.pattern) {
    case 'list':
      return { at: `${at};${one.at[0] + spacing},${one.at[1]};${one.at[0]},${one.at[1] - spacing}` };
    case 'row':
      return { pattern: 'row', at, count: one.counts[0], spacing, angle };
    case 'circle':
      return { pattern: 'circle', at, count: one.counts[0] + one.counts[1], radius: spacing, start: angle };
    case 'arc':
      return { pattern: 'circle', at, count: one.counts[0], radius: spacing, start: angle, sweep: -100 };
    default:
      return { pattern: one.pattern, at, count: one.counts.join(','), spacing: `${spacing},${-spacing}`, angle };
  }
};

/** The places, by complex numbers turned by hand: apart from the product. */
const placesOf = (one: Case): [number, number][] => {
  const [x, y] = one.at;
  const { spacing, counts } = one;
  const turned = (u: number, v: number): [number, number] => {
    const radians = (one.angle * Math.PI) / 180;
    return [x + u * Math.cos(radians) - v * Math.sin(radians), y + u * Math.sin(radians) + v * Math.cos(radians)];
  };
  const polar = (degrees: number): [number, number] => [
    x + spacing * Math.cos((degrees * Math.PI) / 180),
    y + spacing * Math.sin((degrees * Math.PI) / 180),
  ];
  const all = counts[0] + counts[1];
  const grid = Array.from({ length: counts[1] }, (_, j) =>
    Array.from({ length: counts[0] }, (_unused, i): [number, number] => [i, j]),
  );
  const step = ([i, j]: [number, number]): [number, number] => turned(i * spacing, -j * spacing);
  switch (one.pattern) {
    case 'list':
      return [
        [x, y],
        [x + spacing, y],
        [x, y - spacing],
      ];
    case 'row':
      return Array.from({ length: counts[0] }, (_, i) => turned(i * spacing, 0));
    case 'circle':
      return Array.from({ length: all }, (_, i) => polar(one.angle + (360 * i) / all));
    case 'arc':
      return Array.from({ length: counts[0] }, (_, i) => polar(one.angle - (100 * i) / (counts[0] - 1)));
    case 'grid':
      return grid.flatMap((row, j) => (j % 2 === 0 ? row : [...row].reverse())).map(step);
    default: {
      const [right, upper] = [counts[0] - 1, counts[1] - 1];
      return [
        ...grid[0],
        ...grid.slice(1).map((row) => row[right]),
        ...(upper > 0 ? grid[upper].slice(0, right).reverse() : []),
        ...grid
          .slice(1, upper)
          .map((row) => row[0])
          .reverse(),
      ].map(step);
    }
  }
};

/** A speed of the case's own share of 15 to 30 m/min, another for each operation. */
const speedOf = (one: Case, operation: string): number =>
  Math.round((one.cutting * 1000 * (operation === 'tap' ? 0.5 : 1)) / (Math.PI * Math.max(3, one.diameter))) +
  operationsOf(one).indexOf(operation);

/** A feed of 0.02·D a turn. */
const feedOf = (one: Case, operation: string): number =>
  Math.max(5, Math.round(speedOf(one, operation) * 0.02 * one.diameter));

const rawOf = (one: Case): Raw => {
  const raw: Raw = {
    ...patternOf(one),
    operations: one.chain,
    between: one.between,
    top: one.top,
    clearance: one.clearance,
    retract: one.retract,
    'drill.angle': one.pointAngle,
    'drill.through': one.through ? 'yes' : 'no',
    'countersink.diameter': sinkOf(one),
    'countersink.angle': one.sinkAngle,
    'counterbore.diameter': Number((one.diameter * 1.8).toFixed(3)),
    'counterbore.depth': floorOf(one),
    'bore.diameter': boreOf(one),
    'bore.cycle': one.cycle,
    'ream.diameter': reamOf(one),
    'tap.thread': one.thread,
    'tap.holder': 'synchronised',
    'tap.depth': tapDepth(one),
  };
  if (has(one, 'drill')) raw['drill.depth'] = depthOf(one);
  if (!has(one, 'drill')) raw['ream.depth'] = depthOf(one);
  // The drill goes by the tap where one follows.
  if (!has(one, 'tap')) raw['drill.diameter'] = one.diameter;
  if (one.breakout !== undefined) raw['drill.breakout'] = one.breakout;
  if (one.pecks !== undefined) raw['drill.peck'] = peckOf(one);
  operationsOf(one).forEach((operation, index) => {
    raw[`${operation}.tool-number`] = index + 3;
    raw[`${operation}.speed`] = speedOf(one, operation);
    if (operation !== 'tap') raw[`${operation}.feed`] = feedOf(one, operation);
  });
  return raw;
};

/** Depth below the top that each operation's tool goes to. */
const bottomOf = (one: Case, operation: string): number => {
  switch (operation) {
    case 'spot': {
      const widest = Math.max(
        drillOf(one),
        has(one, 'tap') ? (readThread(one.thread)?.diameter ?? Number.NaN) : 0,
        has(one, 'bore') ? boreOf(one) : 0,
      );
      const wide = has(one, 'countersink') ? drillOf(one) : Math.ceil(widest * 10.5 - 1e-6) / 10;
      return wide / (2 * tan(one.pointAngle > 120 ? 142 : 120));
    }
    case 'drill':
      return tipOf(one);
    case 'countersink':
      return sinkOf(one) / (2 * tan(one.sinkAngle));
    case 'counterbore':
      return floorOf(one);
    case 'tap':
      return tapDepth(one) + 3 * pitchOf(one);
    default:
      if (!has(one, 'drill')) return depthOf(one);
      return one.through ? tipOf(one) : depthOf(one) - 1;
  }
};

/** The moves of each operation: what comes before each G80. */
const partsOf = ({ lines, moves }: Pick<BatchBlock, 'lines' | 'moves'>): TracedMove[][] => {
  const ends = lines.flatMap((line, i) => (/\bG80$/.test(line) ? [i] : []));
  return ends.map((end, i) => moves.filter(({ line }) => line <= end && line > (ends[i - 1] ?? -1)));
};

const fail = (what: string): never => {
  throw new Error(what);
};

const checkPath = (one: Case, { units }: Settings, block: Pick<BatchBlock, 'lines' | 'moves'>): void => {
  const grid = (units === 'inch' ? 0.00127 : 0.0005) + 1e-9;
  // Quicker than an expectation, of which there are a hundred thousand.
  const near = (value: number, wanted: number, what: string): void => {
    if (!(Math.abs(value - wanted) <= grid)) fail(`${what}: ${value} for ${wanted}`);
  };
  const places = placesOf(one);
  const parts = partsOf(block);
  const operations = operationsOf(one);
  if (parts.length !== operations.length) fail(`${parts.length} parts`);
  operations.forEach((operation, index) => {
    const moves = parts[index];
    const cuts = moves.filter(({ kind }) => kind === 'line');
    const isTap = operation === 'tap';
    const clearance = one.top + (isTap ? Math.max(one.clearance, 3, 2 * pitchOf(one)) : one.clearance);
    const across = isTap || one.between === 'retract' ? one.top + Math.max(one.retract, one.clearance) : clearance;
    const bottom = one.top - bottomOf(one, operation);
    let place = -1;
    for (const { from, to } of cuts) {
      near(to[0], from[0], 'upright');
      near(to[1], from[1], 'upright');
      if (to[2] < from[2] && Math.abs(from[2] - clearance) <= grid) {
        const next = places[place + 1];
        if (next !== undefined && Math.abs(from[0] - next[0]) <= grid && Math.abs(from[1] - next[1]) <= grid) place++;
      }
      near(from[0], places[place][0], `X of hole ${place}`);
      near(from[1], places[place][1], `Y of hole ${place}`);
    }
    if (place !== places.length - 1) fail(`${operation}: ${place + 1} holes of ${places.length}`);
    near(Math.min(...cuts.map(({ to }) => to[2])), bottom, `${operation}: bottom`);
    checkFeeds(one, operation, cuts);
    // From hole to hole only at the level for it; a bar may move off its wall.
    const begun = moves.slice(moves.indexOf(cuts[0]));
    const aside = begun.filter(({ from, to }) => Math.hypot(to[0] - from[0], to[1] - from[1]) > 0.5);
    for (const { from, to, kind } of aside) {
      if (kind !== 'rapid' || from[2] !== to[2]) fail(`${operation}: crosses at ${from[2]}, ${to[2]}`);
      near(from[2], across, `${operation}: crosses`);
    }
    if (aside.length !== places.length - 1) fail(`${operation}: ${aside.length} ways across`);
  });
  near(block.moves[block.moves.length - 1].to[2], one.top + Math.max(one.retract, one.clearance), 'end');
};

const checkFeeds = (one: Case, operation: string, cuts: readonly TracedMove[]): void => {
  const wanted = operation === 'tap' ? speedOf(one, operation) * pitchOf(one) : feedOf(one, operation);
  for (const { feed, speed } of cuts) {
    if (!(Math.abs(feed - wanted) < 0.003)) fail(`${operation}: F${feed} for ${wanted}`);
    if (speed !== speedOf(one, operation)) fail(`${operation}: S${speed}`);
  }
  const isOut = cuts.some(({ from, to }) => to[2] > from[2]);
  const feedsOut =
    operation === 'tap' || operation === 'ream' || (operation === 'bore' && [85, 89].includes(one.cycle));
  if (isOut !== feedsOut) fail(`${operation}: out at feed ${isOut}`);
};

/** Words that say how the holes are drilled. */
const checkForm = (one: Case, { profile }: Settings, lines: readonly string[]): void => {
  if (!has(one, 'drill')) return;
  const line = lines.filter((text) => /G98|G99/.test(text))[has(one, 'spot') ? 1 : 0];
  const ratio = depthOf(one) / drillOf(one);
  const way = one.clearance + tipOf(one);
  const isPecked = one.pecks === undefined ? ratio > 3 + 1e-9 : peckOf(one) < way;
  const isDeep = ratio >= 8 - 1e-9 || profile.name === 'rs274ngc';
  const code = isPecked ? (isDeep ? 'G83' : 'G73') : 'G81';
  if (!line.includes(` ${code} `)) fail(`${line} is not ${code} at ${ratio}`);
};

describe('over random chains, patterns, profiles, units and modes before it', () => {
  it('every tool goes to its depth at every place, at its feed, and crosses only where it may', () => {
    fc.assert(
      fc.property(settings, fc.array(cases, { minLength: 40, maxLength: 40 }), (setting, all) => {
        // Each at places of its own: they are all in one program.
        const apart = all.map((one, i): Case => ({ ...one, at: [one.at[0] + 1000 * i, one.at[1]] }));
        const some = apart.filter((one) => canBeMade(setting, one));
        const blocks = runBatch('holes', some.map(rawOf), contextOf(setting));
        blocks.forEach((block, i) => {
          checkPath(some[i], setting, block);
          checkForm(some[i], setting, block.lines);
        });
      }),
      { seed: SEED, endOnFailure: true, numRuns: 55 },
    );
  });

  it('is proved by itself: modes put back, no word from the checks', () => {
    fc.assert(
      fc.property(settings, cases, (setting, one) => {
        fc.pre(canBeMade(setting, one));
        const context = contextOf(setting);
        const block = runBlock('holes', rawOf(one), context);
        expect(notPutBack(context, block.lines)).toEqual([]);
        expect(block.findings.filter(({ rule }) => rule !== 'program-end-missing')).toEqual([]);
      }),
      { seed: SEED, endOnFailure: true, numRuns: 100 },
    );
  });
});

/** A tool table that has the tools of a chain as they are. */
const tableOf = (one: Case): ToolRow[] => {
  const kinds: Readonly<Record<string, Partial<ToolRow>>> = {
    spot: { kind: 'spot-drill', diameter: 40, pointAngle: one.pointAngle > 120 ? 142 : 120 },
    drill: { kind: 'drill', diameter: drillOf(one), pointAngle: one.pointAngle },
    countersink: { kind: 'countersink', diameter: 45, pointAngle: one.sinkAngle },
    counterbore: { kind: 'other', diameter: Number((one.diameter * 1.8).toFixed(3)) },
    ream: { kind: 'reamer', diameter: reamOf(one) },
    bore: { kind: 'boring-bar' },
    tap: { kind: 'tap', thread: one.thread, leadTurns: 3, holder: { kind: 'synchronised' } },
  };
  return operationsOf(one).map(
    (operation, index): ToolRow => ({ number: index + 3, kind: 'other', ...kinds[operation] }),
  );
};

describe('the checks', () => {
  it('say nothing on a program of one block, with and without the tools in the table', () => {
    fc.assert(
      fc.property(settings, cases, fc.boolean(), ({ profile, units }, one, hasTable) => {
        fc.pre(canBeMade({ profile } as Settings, one));
        const context = contextUnder(profile, units, { tools: hasTable ? tableOf(one) : [] });
        const block = runBlock('holes', { ...rawOf(one), top: 0 }, context);
        const start = `${units === 'inch' ? 'G20' : 'G21'} G17 G90 G94 G40 G80`;
        const end = [`G0 Z${units === 'inch' ? 4 : 100}.`, 'M30', ''];
        const analysis = new Analysis([start, 'G54', ...block.lines, ...end].join('\n'), context.configuration);
        analysis.run();
        const told = analysis
          .findings()
          .findings.filter(({ rule }) => rule !== 'tap-without-hole' || has(one, 'drill'));
        expect(told.map(({ rule, message }) => `${rule}: ${message}`)).toEqual([]);
      }),
      { seed: SEED, endOnFailure: true, numRuns: 100 },
    );
  });
});
