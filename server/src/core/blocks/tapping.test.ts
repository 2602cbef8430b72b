import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BatchBlock, runBatch } from '../../../../tests/harness/blockBatch.ts';
import { contextUnder, makeBlock, runBlock } from '../../../../tests/harness/blocks.ts';
import { notPutBack } from '../../../../tests/harness/putBack.ts';
import { revised } from '../../../../tests/harness/revised.ts';
import { Analysis } from '../checks/analysis.ts';
import type { TapHolder, ToolRow } from '../machine/configuration.ts';
import { type ControlProfile, PROFILES } from '../machine/profile.ts';
import { drillPointLength } from '../reference/threadMeasures.ts';
import type { BlockContext } from './context.ts';
import { readThread, readValues } from './readValues.ts';
import { drillingFor, tapping } from './tapping.ts';

type Raw = Record<string, string | number>;

const SEED = 20251128;
const THREADS = ['M3', 'M6', 'M8X1', 'M10X1.25', 'M12', 'M20', '1/4-20 UNC', '#10-32 UNF', 'G1/4', '21x1.5', '1/4 NPT'];

const thousandth = (least: number, most: number) =>
  fc.integer({ min: least * 1000, max: most * 1000 }).map((value) => value / 1000);

const entries = fc.record({
  distance: fc.constantFrom(90, 91),
  plane: fc.constantFrom(17, 18, 19),
  feedMode: fc.constantFrom(94, 95),
  retract: fc.constantFrom(98, 99),
  motion: fc.constantFrom(0, 10),
  feed: fc.constantFrom(undefined, 254),
  speed: fc.constantFrom(undefined, 900),
  spindle: fc.constantFrom(3, 4, 5),
  height: fc.constantFrom(undefined, 2, 40),
});

const places = fc.array(fc.tuple(thousandth(-90, 90), thousandth(-90, 90)), { minLength: 1, maxLength: 4 });

/** What all blocks of a batch begin in. */
const settings = fc.record({
  profile: fc.constantFrom(...Object.values(PROFILES)),
  units: fc.constantFrom('mm' as const, 'inch' as const),
  entry: entries,
});

interface Case {
  readonly thread: string;
  readonly hand: string;
  readonly hole: string;
  readonly holder: 'synchronised' | 'float' | 'reversing';
  readonly depth: number;
  readonly lead: number;
  readonly speed: number;
  readonly percent: number;
  readonly ratio: number;
  readonly selfFeed: number;
  readonly freeUp: number;
  readonly top: number;
  readonly retract: number;
  readonly places: readonly (readonly [number, number])[];
}

const cases: fc.Arbitrary<Case> = fc
  .record({
    thread: fc.constantFrom(...THREADS),
    hand: fc.constantFrom('right', 'left'),
    hole: fc.constantFrom('blind', 'through'),
    holder: fc.constantFrom('synchronised' as const, 'float' as const, 'reversing' as const),
    depth: thousandth(4, 40),
    lead: fc.constantFrom(1.5, 3, 5),
    speed: fc.integer({ min: 60, max: 900 }),
    percent: fc.constantFrom(98, 99, 100),
    ratio: fc.constantFrom(1, 1.75, 2),
    selfFeed: thousandth(1.5, 5),
    freeUp: thousandth(0, 12),
    top: thousandth(-20, 20),
    retract: thousandth(5, 30),
    places,
  })
  .filter(({ depth, lead, thread, selfFeed }) => depth + lead * pitchOf(thread) > selfFeed + 0.5)
  .map((one) => ({ ...one, percent: one.holder === 'synchronised' ? 100 : one.percent }));

const pitchOf = (name: string): number => readThread(name)?.pitch ?? expect.fail(name);

const rawOf = (one: Case): Raw => ({
  thread: one.thread,
  hand: one.hand,
  hole: one.hole,
  holder: one.holder,
  depth: one.depth,
  'lead-turns': one.lead,
  speed: one.speed,
  'infeed-percent': one.percent,
  float: 8,
  ratio: one.ratio,
  'self-feed': one.selfFeed,
  'free-up': one.freeUp,
  top: one.top,
  retract: one.retract,
  at: one.places.map((place) => place.join(',')).join(';'),
});

type Settings = typeof settings extends fc.Arbitrary<infer T> ? T : never;

const contextOf = ({ profile, units, entry }: Settings): BlockContext => {
  const context = contextUnder(profile, units);
  const feedMode = profile.withoutCodes.includes(950) ? 94 : entry.feedMode;
  return { ...context, entry: { ...context.entry, ...entry, feedMode } };
};

/** The report has no G74, and refuses such a block: tested by itself. */
const writable = ({ profile }: Settings, { hand, holder }: Case): boolean =>
  profile.name !== 'rs274ngc' || hand === 'right' || holder === 'reversing';

/** Half of the last place of F, and what is lost by writing it short: mm/min. */
const checkFeeds = (one: Case, units: 'mm' | 'inch', { moves }: Pick<BatchBlock, 'moves'>): void => {
  const full = one.speed * pitchOf(one.thread);
  const last = units === 'inch' ? 0.00254 : 0.001;
  const feeds = moves.filter(({ kind }) => kind === 'line').map(({ feed }) => feed);
  const [first, second] = feeds;
  if (one.holder === 'synchronised') {
    for (const feed of feeds) expect(Math.abs(feed - full)).toBeLessThanOrEqual(last);
    return;
  }
  const asked = (full * one.percent) / 100;
  expect(first).toBeLessThanOrEqual(asked + 1e-6);
  expect(first).toBeGreaterThanOrEqual(asked * 0.998 - last);
  const out = one.holder === 'float' ? asked : full * one.ratio;
  expect(second).toBeLessThanOrEqual(out + 1e-6);
  expect(second).toBeGreaterThanOrEqual(out * 0.998 - last);
};

const clearanceOf = (one: Case): number => {
  const pitch = pitchOf(one.thread);
  if (one.holder === 'float') return Math.max(5, 3 * pitch);
  return one.holder === 'reversing' ? one.selfFeed + 3 * pitch : Math.max(3, 2 * pitch);
};

const checkPath = (one: Case, units: 'mm' | 'inch', { moves }: Pick<BatchBlock, 'moves'>): void => {
  /** Half of the last place that a length is written in, mm. */
  const grid = (units === 'inch' ? 0.00127 : 0.0005) + 1e-9;
  // Quicker than an expectation, of which there are a hundred thousand.
  const near = (value: number, wanted: number, what: string): void => {
    if (!(Math.abs(value - wanted) <= grid)) throw new Error(`${what}: ${value} for ${wanted}`);
  };
  const cuts = moves.filter(({ kind }) => kind === 'line');
  expect(cuts).toHaveLength(2 * one.places.length);
  const isHead = one.holder === 'reversing';
  const clearance = one.top + clearanceOf(one);
  const tip = one.top - one.depth - one.lead * pitchOf(one.thread) + (isHead ? one.selfFeed : 0);
  const free = clearance + (isHead ? one.freeUp : 0);
  const safe = Math.max(one.top + one.retract, free);
  one.places.forEach((place, index) => {
    const [down, up] = [cuts[2 * index], cuts[2 * index + 1]];
    for (const point of [down.from, down.to, up.from, up.to]) {
      near(point[0], place[0], 'X');
      near(point[1], place[1], 'Y');
    }
    near(down.from[2], clearance, 'feed begins');
    near(down.to[2], tip, 'tip');
    expect(up.from[2]).toBe(down.to[2]);
    near(up.to[2], free, 'feed ends');
    expect([down.speed, up.speed]).toEqual([one.speed, one.speed]);
  });
  // From hole to hole only at the safe level.
  const aside = moves.filter(({ from, to }) => from[0] !== to[0] || from[1] !== to[1]).slice(1);
  for (const { kind, from, to } of aside) {
    expect(kind).toBe('rapid');
    near(from[2], safe, 'between holes');
    near(to[2], safe, 'between holes');
  }
  near(moves[moves.length - 1].to[2], safe, 'end');
  expect(moves.some(({ kind }) => kind === 'dwell')).toBe(false);
};

const checkWords = (one: Case, profile: ControlProfile, lines: readonly string[]): void => {
  const text = lines.filter((line) => !line.startsWith('(')).join('\n');
  expect(text.includes(one.hand === 'left' ? 'G74' : 'G84')).toBe(one.holder !== 'reversing');
  expect(text).not.toContain(one.hand === 'left' ? 'G84' : 'G74');
  // Behind M29 the cycle starts the spindle, which must not turn before.
  const code = one.holder === 'synchronised' ? profile.synchronisedTappingCode : -1;
  const turns = one.hand === 'left' ? ' M4' : ' M3';
  expect(text.slice(0, text.search(/G84|G74|G9 |G61\.1/)).includes(turns)).toBe(code < 0);
  if (code >= 0) expect(text).toMatch(new RegExp(`M${code} S${one.speed}\n(?:N\\d+ )?G98 G[78]4 `));
};

describe('over random threads, holders, profiles, units and modes before it', () => {
  it('the tap goes to its depth at its places and at its feeds', () => {
    fc.assert(
      fc.property(settings, fc.array(cases, { minLength: 40, maxLength: 40 }), (setting, all) => {
        const some = all.filter((one) => writable(setting, one));
        const blocks = runBatch('tapping', some.map(rawOf), contextOf(setting));
        blocks.forEach((block, i) => {
          checkPath(some[i], setting.units, block);
          checkFeeds(some[i], setting.units, block);
          checkWords(some[i], setting.profile, block.lines);
        });
      }),
      { seed: SEED, numRuns: 60 },
    );
  });

  it('is proved by itself: modes, F and S put back, no error, and its remarks give it once more', () => {
    fc.assert(
      fc.property(settings, cases, (setting, one) => {
        fc.pre(writable(setting, one));
        const context = contextOf(setting);
        const block = runBlock('tapping', rawOf(one), context);
        checkPath(one, setting.units, block);
        expect(block.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
        expect(notPutBack(context, block.lines)).toEqual([]);
        expect(revised(block.lines, context)).toEqual(block.lines);
      }),
      { seed: SEED, numRuns: 120 },
    );
  });
});

/** A program that drills and taps, with both tools in the table as they are. */
const checkedProgram = (one: Case, profile: ControlProfile, units: 'mm' | 'inch') => {
  const holder: TapHolder = {
    kind: one.holder,
    ...(one.holder === 'synchronised' ? {} : { float: 8 }),
    ...(one.holder === 'reversing' ? { ratio: one.ratio, selfFeed: one.selfFeed, freeUp: one.freeUp } : {}),
  };
  const thread = one.hand === 'left' ? `${one.thread} LH` : one.thread;
  const tap: ToolRow = { number: 5, kind: 'tap', thread, leadTurns: one.lead, holder };
  const context = contextUnder(profile, units, { tools: [tap] });
  const raw = { ...rawOf(one), top: 0, 'tool-number': 5 };
  const { values } = readValues(tapping.parameters, texts(raw), false);
  const hole = drillingFor(values, context) ?? expect.fail('no drilling');
  const drill: ToolRow = { number: 2, kind: 'drill', diameter: Number(hole['drill.diameter']), pointAngle: 118 };
  const scale = units === 'inch' ? 25.4 : 1;
  const length = (value: number): string => (value / scale).toFixed(4);
  const isThrough = hole['drill.through'] === 'yes';
  const point = drillPointLength(drill.diameter ?? 0, 118) + (isThrough ? 1 : 0);
  const block = makeBlock('tapping', raw, context);
  const lines = [
    `${units === 'inch' ? 'G20' : 'G21'} G17 G90 G94 G40 G80`,
    'G54',
    `T2 M6 ( DRILL D${length(drill.diameter ?? 0)} ${isThrough ? 'THROUGH' : 'BLIND'} )`,
    'S600 M3',
    `G0 X${length(one.places[0][0])} Y${length(one.places[0][1])}`,
    `G43 Z${length(50)} H2`,
    `G98 G81 Z${length(-Number(hole['drill.depth']) - point)} R${length(2)} F${length(60)}`,
    ...one.places.slice(1).map(([x, y]) => `X${length(x)} Y${length(y)}`),
    'G80',
    ...(block.lines ?? expect.fail(block.problems.map(({ message }) => message).join(' | '))),
    `G0 Z${length(100)}`,
    'M30',
    '',
  ];
  const analysis = new Analysis(lines.join('\n'), { ...context.configuration, tools: [tap, drill] });
  analysis.run();
  return { lines, findings: analysis.findings().findings };
};

const texts = (raw: Raw): Record<string, string> =>
  Object.fromEntries(Object.entries(raw).map(([name, value]) => [name, String(value)]));

describe('the checks', () => {
  it('say nothing on holes drilled and tapped as the block computes them, with tap and holder in the tool table', () => {
    const standard = cases.filter(({ thread }) => !['21x1.5', '1/4 NPT'].includes(thread));
    fc.assert(
      fc.property(settings, standard, ({ profile, units, entry }, one) => {
        fc.pre(writable({ profile, units, entry }, one));
        const { findings } = checkedProgram(one, profile, units);
        // A control without M49 leaves the knob to the machinist, and the block's caution says so too.
        const told = findings.filter(({ rule }) => rule !== 'feed-override-unlocked' || profile.name === 'rs274ngc');
        expect(told.map(({ rule, message }) => `${rule}: ${message}`)).toEqual([]);
      }),
      { seed: SEED, numRuns: 150 },
    );
  });
});
