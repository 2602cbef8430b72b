import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { contextUnder, makeBlock, runBlock } from '../../../../tests/harness/blocks.ts';
import {
  heightsOf,
  measuresOf,
  modesBehind,
  must,
  near,
  PLACES_TO_STAND,
  sameNumbers,
  tracedBlock,
  type Way,
  WITH_OTHER_MODES,
  waysOf,
} from '../../../../tests/harness/helixWays.ts';
import { PROFILES } from '../machine/profile.ts';
import type { BlockContext } from './context.ts';

/** Thread with its minor diameter D1 by ISO 724 and ISO 228-1, mm (tables from memory). */
const THREADS: readonly (readonly [name: string, minor: number])[] = [
  ['M3', 2.459],
  ['M4', 3.242],
  ['M5', 4.134],
  ['M6', 4.917],
  ['M8', 6.647],
  ['M8X1', 6.917],
  ['M10', 8.376],
  ['M10X1.25', 8.647],
  ['M12', 10.106],
  ['M14', 11.835],
  ['M16', 13.835],
  ['M18', 15.294],
  ['M20', 17.294],
  ['M20X1.5', 18.376],
  ['G1/8', 8.566],
  ['G1/4', 11.445],
];
/** What the tables are rounded to. */
const TABLE = 0.0012;

const anyTap = fc.record({
  thread: fc.constantFrom(...THREADS),
  tool: fc.integer({ min: 10, max: 120 }).map((tenths) => tenths / 10),
  cornerRadius: fc.constantFrom(0, 0, 0.05, 0.1, 0.2),
  clearance: fc.integer({ min: 5, max: 60 }).map((hundredths) => hundredths / 100),
  brokenAt: fc.integer({ min: 0, max: 300 }).map((tenths) => tenths / 10),
  length: fc.integer({ min: 5, max: 60 }).map((hundredths) => hundredths / 100),
  stage: fc.integer({ min: 8, max: 40 }).map((hundredths) => hundredths / 100),
  lead: fc.constantFrom(undefined, 0.02, 0.035, 0.05),
  airTurns: fc.integer({ min: 1, max: 4 }),
  top: fc.integer({ min: -300, max: 300 }).map((tenths) => tenths / 10),
  centre: fc.tuple(fc.integer({ min: -900, max: 900 }), fc.integer({ min: -900, max: 900 })),
  feed: fc.integer({ min: 20, max: 400 }),
  place: fc.integer({ min: 0, max: PLACES_TO_STAND.length - 1 }),
});
type AnyTap = typeof anyTap extends fc.Arbitrary<infer T> ? T : never;

/** A centre that is written without a rest in both units: whole inches and their tenths. */
const centreOf = ({ centre }: AnyTap): [number, number] => [centre[0] * 2.54, centre[1] * 2.54];

const rawOf = (tap: AnyTap, form: string): Record<string, string | number> => ({
  thread: tap.thread[0],
  tool: tap.tool,
  'corner-radius': tap.cornerRadius,
  'clearance-on-diameter': tap.clearance,
  'broken-at': tap.brokenAt,
  length: tap.length,
  stage: tap.stage,
  ...(tap.lead === undefined ? {} : { lead: tap.lead }),
  'air-turns': tap.airTurns,
  top: tap.top,
  at: centreOf(tap).join(','),
  speed: 4000,
  feed: tap.feed,
  form,
});

/** The cutter may work if it has room to go round, and its flat end leaves nothing standing. */
const roomOf = (tap: AnyTap): 'room' | 'none' | 'near an edge' => {
  const around = tap.thread[1] - tap.clearance - tap.tool;
  const core = around - (tap.tool - 2 * tap.cornerRadius);
  if (Math.abs(around - 0.02) < 0.008 || Math.abs(core) < 0.008) return 'near an edge';
  return around > 0.02 && core < 0 ? 'room' : 'none';
};

/** Never beyond the minor diameter less the clearance: all points of all arcs, and never straight down into what stands. */
const checkReach = (tap: AnyTap, way: Way): void => {
  const [x, y] = centreOf(tap);
  const free = tap.thread[1] - tap.clearance;
  for (const { arc, from } of [way.leadIn, ...way.helix, ...way.level, way.leadOut]) {
    const [a, b] = [from[0] - arc.centre[0], from[1] - arc.centre[1]];
    for (let i = 0; i <= 24; i++) {
      const turn = (i / 24) * Math.max(-360, Math.min(360, arc.sweep)) * (Math.PI / 180);
      const [px, py] = [a * Math.cos(turn) - b * Math.sin(turn), a * Math.sin(turn) + b * Math.cos(turn)];
      const off = Math.hypot(arc.centre[0] + px - x, arc.centre[1] + py - y);
      must(2 * off + tap.tool <= free + TABLE, `reaches ${2 * off + tap.tool} of ${free}`);
    }
  }
  near(way.feedDown.to[0], x, 1e-6);
  near(way.feedDown.to[1], y, 1e-6);
};

const checkStage = (tap: AnyTap, way: Way, stage: number, grid: number): void => {
  const stages = Math.ceil(tap.length / tap.stage - 1e-9);
  const depth = tap.length / stages;
  const fewest = Math.ceil(depth / (tap.lead ?? tap.tool / 100) - 1e-9);
  const most = tap.lead === undefined ? Math.ceil(depth / Math.min(0.05, tap.tool / 100) - 1e-9) : fewest;
  const reached = tap.top - tap.brokenAt - depth * stage;
  const air = stage === 0 ? tap.airTurns : 1;
  const lead = depth / most;
  near(way.turns, most + air, 1e-9);
  near(way.levelTurns, 1, 1e-9);
  near(way.feedDown.to[2], reached + air * lead, grid);
  must(way.feedDown.to[2] > reached - grid, 'straight down into the tap');
  for (const [i, height] of heightsOf(way).entries()) near(height, reached + air * lead - lead * (i + 1), grid);
  for (const { to } of way.level) near(to[2], reached - depth, grid);
  must(
    [...way.helix, ...way.level].every(({ arc }) => !arc.clockwise),
    'climb',
  );
  near(way.up.to[2], tap.top + 10, grid);
};

/** F_centre = F_wall·(D − d)/D, rounded down; down to the fracture at the feed of the wall. */
const checkFeed = (tap: AnyTap, way: Way, inch: boolean): void => {
  const across = 2 * way.helix[0].arc.radius;
  const wanted = (tap.feed * across) / (across + tap.tool);
  const unit = inch ? 25.4 : 1;
  const step = (wanted / unit >= 10 ? 1 : 0.1) * (inch ? 0.1 : 1) * unit;
  for (const { feed } of [...way.helix, ...way.level]) {
    must(feed < wanted + 0.0026 && feed > (wanted > step ? wanted - step - 0.0026 : 0), `feed ${feed} for ${wanted}`);
  }
  near(way.feedDown.feed, tap.feed, 0.0026);
};

const checkTap = (tap: AnyTap): void => {
  const context = PLACES_TO_STAND[tap.place];
  const room = roomOf(tap);
  if (room === 'near an edge') return;
  if (room === 'none') {
    const { problems } = makeBlock('clear-tap', rawOf(tap, 'multi-turn'), context);
    must(
      problems.some(({ parameter }) => parameter === 'tool'),
      `${JSON.stringify(rawOf(tap, 'turns'))} is made`,
    );
    return;
  }
  const grid = context.entry.units === 'inch' ? 0.00254 : 0.001;
  const other = context.configuration.profile.flow && tap.feed % 2 === 0 ? 'loop' : 'turns';
  const traces = ['multi-turn', other].map((form) => {
    const block = tracedBlock('clear-tap', rawOf(tap, form), context);
    const ways = waysOf(block);
    must(ways.length === Math.ceil(tap.length / tap.stage - 1e-9), 'number of stages');
    must(block.lines.filter((line) => / ?M0$/.test(line)).length === ways.length - 1, 'a stop between stages');
    for (const [stage, way] of ways.entries()) {
      checkReach(tap, way);
      checkStage(tap, way, stage, grid);
      checkFeed(tap, way, context.entry.units === 'inch');
    }
    return ways.flatMap(measuresOf);
  });
  sameNumbers(traces[1], traces[0], grid);
};

test('the cutter never comes beyond the minor diameter less the clearance, M3 to M20 with cutters of 1 to 12 mm', () => {
  let made = 0;
  fc.assert(
    fc.property(anyTap, (tap) => {
      checkTap(tap);
      if (roomOf(tap) === 'room') made++;
    }),
    { seed: 5, numRuns: 2500 },
  );
  // Enough of both kinds.
  expect(made).toBeGreaterThan(500);
  expect(made).toBeLessThan(2000);
});

const M6 = { thread: 'M6', tool: 3, 'broken-at': 4, length: 2 };

describe('where it stands', () => {
  const nameOf = ({ configuration, entry }: BlockContext): string =>
    `${configuration.profile.name}, ${entry.units}, G${entry.distance} G${entry.plane} G${entry.feedMode} G${entry.retract}`;

  it.each(WITH_OTHER_MODES.map((context): [string, BlockContext] => [nameOf(context), context]))(
    'puts modes, F and S back under %s',
    (_, context) => {
      const { before, after } = modesBehind(runBlock('clear-tap', M6, context).lines, context);
      expect(after).toEqual(before);
    },
  );

  it.each(PLACES_TO_STAND.map((context): [string, BlockContext] => [nameOf(context), context]))(
    'gives the checks nothing to say under %s',
    (_, context) => {
      const { findings } = runBlock('clear-tap', { ...M6, 'tool-number': 8, material: 'aluminium' }, context);
      expect(findings.map(({ rule }) => rule).filter((rule) => rule !== 'program-end-missing')).toEqual([]);
    },
  );
});

describe('a broken M6', () => {
  const block = runBlock('clear-tap', { ...M6, form: 'multi-turn' });

  it('is cleared in stages, with the spindle standing while somebody looks in', () => {
    const steps = block.lines.filter((line) => /^(?:M|S\d|G0 Z|\( (?:STAGE|BLOW))/.test(line));
    expect(steps).toEqual([
      'S4244 M3',
      'G0 Z10.',
      '( STAGE 1 OF 2 DOWN TO Z-5. )',
      'G0 Z2.',
      'G0 Z10.',
      'M5',
      '( BLOW OUT AND LOOK )',
      'M0',
      'S4244 M3',
      '( STAGE 2 OF 2 DOWN TO Z-6. )',
      'G0 Z2.',
      'G0 Z10.',
    ]);
  });

  it('stops by M1 where that is asked for', () => {
    const { lines } = runBlock('clear-tap', { ...M6, stop: 'optional' });
    expect(lines.filter((line) => /^M[01]$/.test(line))).toEqual(['M1']);
    expect(block.lines.filter((line) => /^M[01]$/.test(line))).toEqual(['M0']);
  });

  it('runs without flood, and gives the program’s own back', () => {
    const alone = contextUnder(PROFILES.iso);
    const flooded = { ...alone, entry: { ...alone.entry, coolant: 2 } };
    const codes = ({ lines }: { lines: readonly string[] }) => lines.filter((line) => /^M[789]$/.test(line));
    expect(codes(runBlock('clear-tap', M6, flooded))).toEqual(['M9', 'M8']);
    expect(codes(runBlock('clear-tap', { ...M6, coolant: 'mist' }, flooded))).toEqual([
      'M9',
      'M7',
      'M9',
      'M7',
      'M9',
      'M8',
    ]);
    expect(makeBlock('clear-tap', { ...M6, coolant: 'flood' }).problems.map(({ parameter }) => parameter)).toEqual([
      'coolant',
    ]);
  });

  it('says what is left for the crests, how deep it goes and what it takes', () => {
    expect(Object.fromEntries(block.facts.map(({ name, text }) => [name, text]))).toMatchObject({
      minor: '4.918 mm',
      cleared: '4.616 mm',
      left: '0.151 mm',
      web: '3 mm',
      path: 'diameter 1.616 mm',
      stages: '2, 1 mm each',
      lead: '0.029 mm',
      'centre-feed': '25 mm/min',
      bottom: 'Z-6 mm',
      reach: '6 mm',
    });
  });

  it('begins with its cautions, short enough for every screen', () => {
    expect(block.cautions.join(' ')).toMatch(
      /PICK UP THE HOLE CENTRE.*PROVE IN THE AIR.*NEVER CARBIDE.*GUARD CLOSED.*EYES AND BREATH.*FRAGMENTS.*SHATTER.*CLEAN THE MACHINE.*AIR BLAST.*NO FLOOD.*WEB OF ABOUT 3 MM.*CHASE THE THREAD BY HAND/,
    );
    for (const line of block.cautions) expect(line.length).toBeLessThanOrEqual(60);
    for (const line of block.cautions) expect(block.lines).toContain(`( ${line} )`);
  });

  it('needs as long as it says', () => {
    const seconds = block.moves.filter(({ kind }) => kind !== 'rapid').reduce((sum, move) => sum + move.seconds, 0);
    const said = /(\d+) min (\d+) s/.exec(block.facts.find(({ name }) => name === 'time')?.text ?? '');
    expect(Math.abs(Number(said?.[1]) * 60 + Number(said?.[2]) - seconds)).toBeLessThan(1);
  });
});

type Raw = Record<string, string | number>;

/** What is said of a value, '' where nothing is. */
const said = (raw: Raw, kind: 'problems' | 'words', context = contextUnder(PROFILES.iso)): string =>
  makeBlock('clear-tap', { ...M6, ...raw }, context)
    [kind].map(({ parameter, message }) => `${parameter}: ${message}`)
    .join(' | ');

describe('refuses, with what would work', () => {
  it.each<[what: string, over: Raw, under: Raw, message: string]>([
    [
      'a cutter that would touch the thread',
      { tool: 4.7 },
      { tool: 4.59 },
      'tool: A cutter of 4.7 mm would touch the thread: 4.618 mm is free in M6X1, its minor diameter 4.918 mm less the clearance. Take one of 2.6 mm to 3.6 mm.',
    ],
    [
      'a cutter that has no room to go round',
      { tool: 4.6 },
      { tool: 4.597 },
      'tool: A cutter of 4.6 mm has no room to go round: 4.618 mm is free in M6X1, its minor diameter 4.918 mm less the clearance. Take one of 2.6 mm to 3.6 mm.',
    ],
    [
      'a core left standing',
      { tool: 2.307 },
      { tool: 2.309 },
      'tool: A cutter of 2.307 mm leaves a core of 0.003 mm standing in the 4.618 mm that is free in M6X1. Take one of 2.6 mm to 3.6 mm.',
    ],
    [
      'a core under a corner radius',
      { tool: 2.6, 'corner-radius': 0.3 },
      { tool: 2.6, 'corner-radius': 0.29 },
      'tool: A cutter of 2.6 mm leaves a core of 0.016 mm standing in the 4.618 mm that is free in M6X1. Take one of 2.7 mm to 3.6 mm.',
    ],
    [
      'a cutter with no flat end',
      { 'corner-radius': 1.5 },
      { 'corner-radius': 0.5 },
      'corner-radius: A corner radius of 1.5 mm leaves a cutter of 3 mm no flat end, and a core would stand. Take a cutter with less than 1.5 mm.',
    ],
    [
      'a taper thread',
      { thread: '1/4 NPT', tool: 6 },
      { thread: 'G1/4', tool: 7 },
      'thread: 1/4 NPT is a taper thread and gets narrower with depth. Only cylindrical threads are cleared.',
    ],
    [
      'two taps at once',
      { at: '0,0;20,0' },
      { at: '20,0' },
      'at: A broken tap is picked up and cleared on its own. Give one centre.',
    ],
  ])('%s', (_, over, under, message) => {
    expect(said(over, 'problems')).toBe(message);
    expect(said(under, 'problems')).toBe('');
  });

  it.each<[what: string, row: Raw, message: string]>([
    [
      'a ball nose',
      { kind: 'ball-mill' },
      'tool: The tool is a ball nose, whose tip does not turn fast enough to cut a hardened tap. Take an end mill with a corner radius.',
    ],
    [
      'a cutter of high-speed steel',
      { kind: 'end-mill', cuttingMaterial: 'hss' },
      'tool: The cutter is of high-speed steel, no harder than the tap. Take one of carbide.',
    ],
  ])('%s of the tool table', (_, row, message) => {
    const tools = [{ number: 8, diameter: 3, ...row } as never];
    expect(said({ 'tool-number': 8 }, 'problems', contextUnder(PROFILES.iso, 'mm', { tools }))).toBe(message);
    const carbide = [{ number: 8, diameter: 3, kind: 'end-mill', cuttingMaterial: 'carbide' } as const];
    expect(said({ 'tool-number': 8 }, 'problems', contextUnder(PROFILES.iso, 'mm', { tools: carbide }))).toBe('');
  });

  it('more blocks than anybody reads', () => {
    const long = { length: 100, stage: 100, lead: 0.02 };
    expect(said({ ...long, form: 'turns' }, 'problems')).toContain('form: 5004 turns would be as many blocks');
    expect(said({ ...long, form: 'loop' }, 'problems')).toBe('');
  });
});

describe('warns, and is made all the same', () => {
  it.each<[what: string, over: Raw, under: Raw, message: string]>([
    [
      'a thin cutter',
      { tool: 2.53 },
      { tool: 2.54 },
      'tool: The cutter of 2.53 mm is 54.8 % of the cleared diameter of 4.616 mm; 55 to 80 % is usual. A thicker one is stiffer.',
    ],
    [
      'a thick cutter',
      { tool: 3.7 },
      { tool: 3.69 },
      'tool: The cutter of 3.7 mm is 80.2 % of the cleared diameter of 4.616 mm; 55 to 80 % is usual. A thinner one leaves more room for dust and air.',
    ],
    [
      'a lead that breaks the cutter',
      { lead: 0.051 },
      { lead: 0.05 },
      'lead: 0.051 mm a turn is much in a hardened tap; 0.05 mm is the most that is usual with a cutter of 3 mm. Take less, or expect the cutter to break.',
    ],
    [
      'a cutting speed that burns the edge',
      { speed: 6420 },
      { speed: 6366 },
      'speed: 60.5 m/min in a hardened tap is fast; 30 m/min to 60 m/min is usual. Hold it against the data of the cutter’s maker.',
    ],
    [
      'a feed too large a tooth',
      { speed: 4000, feed: 165 },
      { speed: 4000, feed: 160 },
      'feed: 0.01 mm/tooth in a hardened tap is much; 0.003 mm/tooth to 0.01 mm/tooth is usual. Hold it against the data of the cutter’s maker.',
    ],
  ])('%s', (_, over, under, message) => {
    expect(said(over, 'words')).toBe(message);
    expect(said(over, 'problems')).toBe('');
    expect(said(under, 'words')).toBe('');
  });

  it('a cutter of few teeth, by the tool table or as given', () => {
    const few = 'flutes: The cutter has 3 teeth. Four or more run quieter in a hardened tap.';
    const tools = [{ number: 8, diameter: 3, kind: 'end-mill', teeth: 3 } as const];
    const table = contextUnder(PROFILES.iso, 'mm', { tools });
    expect(said({ 'tool-number': 8 }, 'words', table)).toBe(few);
    expect(said({ 'tool-number': 8, flutes: 4 }, 'words', table)).toBe('');
    expect(said({ flutes: 3 }, 'words')).toBe(few);
    expect(said({ flutes: 4 }, 'words')).toBe('');
  });

  it('flutes shorter than the way down to the last of the tap', () => {
    const deep = { 'broken-at': 4, length: 8 };
    expect(said({ ...deep, 'cutting-length': 11.9 }, 'words')).toBe(
      'length: The cutter goes 12 mm deep and its flutes are 11.9 mm long. Take one with longer flutes, or see that its shank clears the wall.',
    );
    expect(said({ ...deep, 'cutting-length': 12 }, 'words')).toBe('');
  });
});
