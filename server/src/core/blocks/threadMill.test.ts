import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BatchBlock, runBatch } from '../../../../tests/harness/blockBatch.ts';
import { contextUnder, runBlock } from '../../../../tests/harness/blocks.ts';
import { notPutBack } from '../../../../tests/harness/putBack.ts';
import { revised } from '../../../../tests/harness/revised.ts';
import type { TracedMove } from '../features/trace.ts';
import { PROFILES } from '../machine/profile.ts';
import type { BlockContext } from './context.ts';

type Raw = Record<string, string | number>;
type Arc = TracedMove & { readonly arc: NonNullable<TracedMove['arc']> };

const SEED = 20251128;

/** Name, major diameter, pitch; mm. Typed here once more, apart from the product's tables. */
const THREADS: readonly (readonly [name: string, major: number, pitch: number])[] = [
  ['M6', 6, 1],
  ['M10X1.25', 10, 1.25],
  ['M20', 20, 2.5],
  ['M64', 64, 6],
  ['1/2-13 UNC', 12.7, 25.4 / 13],
  ['G1/2', 20.955, 25.4 / 14],
  ['21x1.5', 21, 1.5],
];

const thousandth = (least: number, most: number) =>
  fc.integer({ min: Math.round(least * 1000), max: Math.round(most * 1000) }).map((value) => value / 1000);

const settings = fc.record({
  profile: fc.constantFrom(...Object.values(PROFILES)),
  units: fc.constantFrom('mm' as const, 'inch' as const),
  entry: fc.record({
    distance: fc.constantFrom(90, 91),
    arcDistance: fc.constantFrom(90, 91),
    plane: fc.constantFrom(17, 18, 19),
    feedMode: fc.constantFrom(94, 95),
    retract: fc.constantFrom(98, 99),
    motion: fc.constantFrom(0, 10),
    feed: fc.constantFrom(undefined, 254),
    speed: fc.constantFrom(undefined, 900),
    spindle: fc.constantFrom(3, 4, 5),
    height: fc.constantFrom(undefined, 2, 40),
  }),
});
type Settings = typeof settings extends fc.Arbitrary<infer T> ? T : never;

const contextOf = ({ profile, units, entry }: Settings): BlockContext => {
  const context = contextUnder(profile, units);
  const feedMode = profile.withoutCodes.includes(950) ? 94 : entry.feedMode;
  const arcDistance = profile.withoutCodes.includes(901) ? 91 : entry.arcDistance;
  return { ...context, entry: { ...context.entry, ...entry, feedMode, arcDistance } };
};

const cases = fc
  .record({
    thread: fc.constantFrom(...THREADS),
    hand: fc.constantFrom('right' as const, 'left' as const),
    side: fc.constantFrom('internal' as const, 'external' as const),
    direction: fc.constantFrom('climb' as const, 'conventional' as const),
    hole: fc.constantFrom('blind' as const, 'through' as const),
    teeth: fc.constantFrom('single' as const, 'multi' as const),
    /** Of the hole that the cutter fits into, per cent. */
    share: fc.integer({ min: 15, max: 99 }),
    pitches: thousandth(0.3, 9),
    cuttingPitches: thousandth(2.1, 8),
    passes: fc.integer({ min: 1, max: 4 }),
    feed: fc.integer({ min: 60, max: 900 }),
    top: thousandth(-20, 20),
    retract: thousandth(3, 30),
    places: fc.array(fc.tuple(thousandth(-90, 90), thousandth(-90, 90)), { minLength: 1, maxLength: 2 }),
  })
  .map((one) => ({ ...one, ...sizesOf(one) }));

/** Cutter and lengths as they are typed, to a hundredth and a thousandth. */
const sizesOf = (one: {
  readonly thread: readonly [string, number, number];
  readonly share: number;
  readonly pitches: number;
  readonly cuttingPitches: number;
}) => {
  const [, major, pitch] = one.thread;
  const tool = Math.floor((major - 1.2807 * pitch) * one.share) / 100;
  const depth = Math.max(0.001, Math.round(one.pitches * pitch * 1000) / 1000);
  return { tool, depth, cutting: Math.round(one.cuttingPitches * pitch * 1000) / 1000 };
};

type Case = typeof cases extends fc.Arbitrary<infer T> ? T : never;

const rawOf = (one: Case): Raw => ({
  thread: one.thread[0],
  hand: one.hand,
  side: one.side,
  direction: one.direction,
  hole: one.hole,
  teeth: one.teeth,
  tool: one.tool,
  depth: one.depth,
  'cutting-length': one.cutting,
  passes: one.passes,
  feed: one.feed,
  speed: 1500,
  top: one.top,
  retract: one.retract,
  at: one.places.map((place) => place.join(',')).join(';'),
});

/** Diameters that the groove begins and ends at: 60° by ISO 724 inside and to the rounded root outside, 55° by ISO 228. */
const diametersOf = ({ thread: [name, major, pitch], side }: Case): { blank: number; wall: number } => {
  const height = name.startsWith('G') ? 1.280654 : side === 'internal' ? 1.082532 : 1.226869;
  const minor = major - height * pitch;
  return side === 'internal' ? { blank: minor, wall: major } : { blank: major, wall: minor };
};

/** The design's table: which way round for side and direction, and whether a thread rises with it. */
const WAYS: Readonly<Record<string, readonly [clockwise: boolean, isUp: boolean]>> = {
  'internal right climb': [false, true],
  'internal right conventional': [true, false],
  'external right climb': [true, false],
  'external right conventional': [false, true],
  'internal left climb': [false, false],
  'internal left conventional': [true, true],
  'external left climb': [true, true],
  'external left conventional': [false, false],
};

const assertNear = (value: number, wanted: number, grid: number, what: string): void => {
  if (!(Math.abs(value - wanted) <= grid)) throw new Error(`${what}: ${value} for ${wanted}`);
};
const assertTrue = (holds: boolean, what: string): void => {
  if (!holds) throw new Error(what);
};

/** One helix with its leads. */
interface Way {
  readonly leadIn: Arc;
  readonly turns: readonly Arc[];
  readonly leadOut: Arc;
}

const isTurn = ({ arc }: Arc): boolean => Math.abs(Math.abs(arc.sweep) - 360) < 1e-6;

const waysOf = (moves: readonly TracedMove[]): Way[] => {
  const ways: Way[] = [];
  let leadIn: Arc | undefined;
  let turns: Arc[] = [];
  for (const move of moves) {
    if (move.arc === undefined) continue;
    const arc = move as Arc;
    if (isTurn(arc)) turns.push(arc);
    else if (leadIn === undefined) leadIn = arc;
    else {
      ways.push({ leadIn, turns, leadOut: arc });
      leadIn = undefined;
      turns = [];
    }
  }
  assertTrue(leadIn === undefined && turns.length === 0, 'a way without its end');
  return ways;
};

/**
 * Angle about the thread's axis that an arc spans, seen counter-clockwise, in turns. On the axis itself there is none: an arc
 * from there is walked from a tenth of its way on, up to nine tenths, and the span is taken to be even.
 */
const spanAbout = ([x, y]: readonly [number, number], { from, arc }: Arc, isFromAxis: boolean): number => {
  const start = Math.atan2(from[1] - arc.centre[1], from[0] - arc.centre[0]);
  const sweep = (arc.sweep * Math.PI) / 180;
  const angleAt = (share: number): number => {
    const angle = start + sweep * share;
    return Math.atan2(
      arc.centre[1] + arc.radius * Math.sin(angle) - y,
      arc.centre[0] + arc.radius * Math.cos(angle) - x,
    );
  };
  const [least, most] = isFromAxis ? [0.1, 0.9] : [0, 1];
  let span = 0;
  const steps = 16;
  const at = (i: number): number => angleAt(least + ((most - least) * i) / steps);
  for (let i = 1; i <= steps; i++) {
    const more = at(i) - at(i - 1);
    span += more > Math.PI ? more - 2 * Math.PI : more < -Math.PI ? more + 2 * Math.PI : more;
  }
  return span / (most - least) / (2 * Math.PI);
};

const checkHelix = (one: Case, place: readonly [number, number], way: Way, grid: number): void => {
  const [, , pitch] = one.thread;
  const [clockwise, isUp] = WAYS[`${one.side} ${one.hand} ${one.direction}`];
  const radius = way.turns[0].arc.radius;
  for (const turn of way.turns) {
    assertNear(turn.arc.centre[0], place[0], grid, 'centre X');
    assertNear(turn.arc.centre[1], place[1], grid, 'centre Y');
    assertNear(turn.arc.radius, radius, 1e-9, 'one radius');
    assertTrue(turn.arc.clockwise === clockwise, 'the way round');
    assertNear(turn.to[2] - turn.from[2], isUp ? pitch : -pitch, 2 * grid, 'lead a turn');
  }
  // Over all turns no rounding adds up.
  const [first, last] = [way.turns[0], way.turns[way.turns.length - 1]];
  assertNear(last.to[2] - first.from[2], (isUp ? pitch : -pitch) * way.turns.length, 2 * grid, 'lead of all turns');
  for (const lead of [way.leadIn, way.leadOut]) {
    // A right-hand thread rises by the pitch for each turn counter-clockwise about its axis.
    const isInside = one.side === 'internal';
    const wanted = spanAbout(place, lead, isInside) * pitch * (one.hand === 'right' ? 1 : -1);
    assertNear(lead.to[2] - lead.from[2], wanted, 2 * grid + 0.01 * pitch, 'rise of a lead');
    if (isInside) assertNear(Math.abs(lead.to[2] - lead.from[2]), pitch / 4, 2 * grid, 'a quarter of the pitch');
  }
  // Smooth: where a lead meets the circle, both centres and the place lie on one line.
  assertNear(way.leadIn.to[1], place[1], grid, 'lead on the axis of X');
  assertNear(way.leadIn.arc.centre[1], place[1], 2 * grid, 'lead runs on smoothly');
  assertTrue(way.leadIn.arc.clockwise === (one.side === 'internal' ? clockwise : !clockwise), 'lead round');
};

const checkRadii = (one: Case, ways: readonly Way[], stages: number, grid: number): void => {
  const { blank, wall } = diametersOf(one);
  const sign = one.side === 'internal' ? 1 : -1;
  const radii = ways.map(({ turns }) => turns[0].arc.radius);
  const last = (wall - sign * one.tool) / 2;
  assertTrue(sign * (radii[radii.length - 1] - last) <= grid, 'never beyond the thread');
  assertNear(radii[radii.length - 1], last, 2 * grid + 1e-3, 'full depth of the groove');
  for (let pass = 0; pass < one.passes; pass++) {
    // Equal sections: the depth of the groove grows with the root of the pass.
    const depth = (Math.abs(wall - blank) / 2) * Math.sqrt((pass + 1) / one.passes);
    const wanted = blank / 2 + sign * depth - (sign * one.tool) / 2;
    for (let stage = 0; stage < stages; stage++)
      assertNear(radii[pass * stages + stage], wanted, 2 * grid + 1e-3, `radius of pass ${pass + 1}`);
    const feed = ways[pass * stages].turns[0].feed;
    const exact = (one.feed * 2 * radii[pass * stages]) / (blank + sign * 2 * depth);
    assertTrue(feed <= exact + 1e-6, `feed ${feed} of ${exact}`);
    assertTrue(feed >= exact - (exact >= 10 ? 2.6 : 0.3), `feed ${feed} of ${exact}`);
  }
};

const checkLevels = (one: Case, ways: readonly Way[], stages: number, grid: number): void => {
  const [, , pitch] = one.thread;
  const bottom = one.top - one.depth - (one.hole === 'through' ? pitch : 0);
  const spans = ways.slice(0, stages).map(({ turns }) => {
    const ends = [turns[0].from[2], turns[turns.length - 1].to[2]];
    return [Math.min(...ends), Math.max(...ends)];
  });
  const lows = spans.map(([low]) => low).sort((a, b) => a - b);
  assertNear(lows[0], bottom, grid, 'lowest helix');
  if (one.teeth === 'single') {
    assertTrue(stages === 1, 'one helix');
    assertTrue(spans[0][1] >= one.top - grid, 'goes on to the top');
    assertTrue(spans[0][1] < one.top + pitch + grid, 'and no turn more');
    return;
  }
  const teeth = Math.floor(one.cutting / pitch + 1e-9);
  for (const [i, low] of lows.entries()) {
    const shift = (low - lows[0]) / pitch;
    assertNear(shift, Math.round(shift), (2 * grid) / pitch, 'stages in step');
    if (i > 0) assertTrue(low <= lows[i - 1] + teeth * pitch + grid, 'no thread left out');
  }
  assertTrue(lows[lows.length - 1] + teeth * pitch >= one.top - 2 * grid, 'up to the top');
  assertTrue(lows.length === 1 || lows[lows.length - 2] + teeth * pitch < one.top + grid, 'no stage too many');
};

const checkBlock = (one: Case, units: 'mm' | 'inch', { moves, lines }: Pick<BatchBlock, 'moves' | 'lines'>): void => {
  const grid = (units === 'inch' ? 0.00127 : 0.0005) + 1e-9;
  const ways = waysOf(moves);
  const perPlace = ways.length / one.places.length;
  const stages = perPlace / one.passes;
  assertTrue(Number.isInteger(stages) && stages >= 1, `${ways.length} ways`);
  one.places.forEach((place, index) => {
    const own = ways.slice(index * perPlace, (index + 1) * perPlace);
    for (const way of own) checkHelix(one, place, way, grid);
    checkRadii(one, own, stages, grid);
    checkLevels(one, own, stages, grid);
  });
  const levels = ways.flatMap(({ leadIn, leadOut }) => [leadIn.from[2], leadOut.to[2]]);
  const clearance = Math.max(one.top + 2, ...levels);
  assertNear(moves[moves.length - 1].to[2], Math.max(one.top + one.retract, clearance), grid, 'end');
  for (const { kind, from, to } of moves) {
    const isAside = from[0] !== to[0] || from[1] !== to[1];
    if (kind === 'rapid' && isAside && from !== moves[0].from)
      assertTrue(Math.min(from[2], to[2]) >= clearance - grid, 'aside above the clearance');
    if (kind === 'line') assertTrue(!isAside, 'straight feeds along the axis only');
  }
  assertTrue(
    lines.some((line) => line.includes('M3')),
    'the cutter turns',
  );
};

describe('over random threads, cutters, sides, hands, directions, profiles, units and modes before it', () => {
  it('cuts the pitch with its hand at the right diameter, over the whole depth, at the feed of the wall', () => {
    fc.assert(
      fc.property(settings, fc.array(cases, { minLength: 40, maxLength: 40 }), (setting, some) => {
        // The very first move comes from wherever the machine stood.
        const context = contextOf(setting);
        const blocks = runBatch('thread-mill', some.map(rawOf), context);
        blocks.forEach((block, i) => {
          checkBlock(some[i], setting.units, block);
        });
      }),
      { seed: SEED, numRuns: 60 },
    );
  });

  it('is proved by itself: modes, F and S put back, no error, and its remarks give it once more', () => {
    fc.assert(
      fc.property(settings, cases, (setting, one) => {
        const context = contextOf(setting);
        const block = runBlock('thread-mill', rawOf(one), context);
        checkBlock(one, setting.units, block);
        expect(block.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
        expect(notPutBack(context, block.lines)).toEqual([]);
        expect(revised(block.lines, context)).toEqual(block.lines);
      }),
      { seed: SEED, numRuns: 120 },
    );
  });
});
