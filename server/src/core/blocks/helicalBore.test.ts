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

const round = (value: number, places = 3): number => Number(value.toFixed(places));

/** A bore that can be cut: the core goes, the turns are few. */
const anyBore = fc
  .record({
    tool: fc.integer({ min: 20, max: 320 }).map((tenths) => tenths / 10),
    share: fc.double({ min: 1.02, max: 1.99, noNaN: true }),
    passes: fc.constantFrom(1, 1, 2, 3),
    depth: fc.integer({ min: 20, max: 4000 }).map((hundredths) => hundredths / 100),
    turns: fc.integer({ min: 1, max: 4 }),
    finish: fc.constantFrom(0, 0, 0.1, 0.25),
    spring: fc.integer({ min: 1, max: 3 }),
    through: fc.boolean(),
    conventional: fc.boolean(),
    atCentre: fc.boolean(),
    top: fc.integer({ min: -500, max: 500 }).map((tenths) => tenths / 10),
    centres: fc.array(fc.tuple(fc.integer({ min: -9000, max: 9000 }), fc.integer({ min: -9000, max: 9000 })), {
      minLength: 1,
      maxLength: 2,
    }),
    feed: fc.integer({ min: 100, max: 3000 }),
    place: fc.integer({ min: 0, max: PLACES_TO_STAND.length - 1 }),
  })
  .map(({ share, passes, turns, ...rest }) => {
    const bore = round(rest.tool + (share - 1) * rest.tool * passes + 2 * rest.finish, 2);
    const depth = rest.depth + (rest.through ? 0.5 : 0);
    return { ...rest, passes, bore, total: depth, lead: round(Math.max(0.005, depth / turns), 4) };
  });
type AnyBore = typeof anyBore extends fc.Arbitrary<infer T> ? T : never;

const rawOf = (bore: AnyBore, form: string): Record<string, string | number> => ({
  bore: bore.bore,
  tool: bore.tool,
  depth: bore.depth,
  lead: bore.lead,
  passes: bore.passes,
  finish: bore.finish,
  spring: bore.spring,
  through: bore.through ? 'yes' : 'no',
  direction: bore.conventional ? 'conventional' : 'climb',
  'feed-at': bore.atCentre ? 'centre' : 'wall',
  at: bore.centres.map(([x, y]) => `${x / 100},${y / 100}`).join(';'),
  top: bore.top,
  speed: 3000,
  feed: bore.feed,
  form,
});

const formsUnder = (context: BlockContext): string[] =>
  context.configuration.profile.flow ? ['turns', 'multi-turn', 'loop'] : ['turns', 'multi-turn'];

/** What a length may lie off after writing, mm: half a last place, and for sums of two a whole one. */
const gridOf = (context: BlockContext): number => (context.entry.units === 'inch' ? 0.00254 : 0.001);

/** Throws where a way does not lie on the bore. Lengths to what is left of them in writing. */
const checkWay = (
  bore: AnyBore,
  way: Way,
  { radius, centre, levelTurns }: { radius: number; centre: readonly number[]; levelTurns: number },
  grid: number,
): void => {
  const bottom = bore.top - bore.total;
  for (const { arc } of [...way.helix, ...way.level]) {
    near(arc.centre[0], centre[0], grid);
    near(arc.centre[1], centre[1], grid);
    near(arc.radius, radius, grid);
    must(arc.clockwise === bore.conventional, 'direction');
  }
  const fewest = Math.ceil(bore.total / bore.lead - 1e-9);
  near(way.turns, fewest, 1e-9);
  heightsOf(way).forEach((height, i) => {
    near(height, bore.top - (bore.total * (i + 1)) / fewest, grid);
  });
  near(way.levelTurns, levelTurns, 1e-9);
  for (const { to } of way.level) near(to[2], bottom, grid);
  for (const place of [way.leadIn.from, way.leadOut.to, way.up.from]) {
    near(place[0], centre[0], grid);
    near(place[1], centre[1], grid);
  }
  near(way.leadIn.from[2], bore.top, grid);
  must(way.down.to[2] > bore.top && way.up.to[2] > bore.top, 'rapid below the top');
};

/** F_centre = F_wall·(D − d)/D on the circle that is cut, rounded down by less than one step of what people write. */
const checkFeed = (bore: AnyBore, way: Way, inch: boolean): void => {
  const across = 2 * way.helix[0].arc.radius;
  const wanted = bore.atCentre ? bore.feed : (bore.feed * across) / (across + bore.tool);
  const unit = inch ? 25.4 : 1;
  const step = bore.atCentre ? 0 : (wanted / unit >= 10 ? 1 : 0.1) * (inch ? 0.1 : 1) * unit;
  for (const { feed } of [...way.helix, ...way.level, way.leadIn, way.leadOut]) {
    // Nearer than a step: F as written, with 3 decimals or 4 in inches.
    must(feed < wanted + 0.0026, `feed ${feed} over ${wanted}`);
    must(feed > (wanted > step ? wanted - step - 0.0026 : 0), `feed ${feed} for ${wanted}`);
  }
};

const checkBore = (bore: AnyBore): void => {
  const context = PLACES_TO_STAND[bore.place];
  const grid = gridOf(context);
  const wall = (bore.bore - bore.tool) / 2;
  const [first, ...others] = formsUnder(context);
  const traces = [first, others[bore.feed % others.length]].map((form) => {
    const ways = waysOf(tracedBlock('helical-bore', rawOf(bore, form), context));
    const perCentre = bore.passes + (bore.finish > 0 ? 1 : 0);
    must(ways.length === perCentre * bore.centres.length, 'number of passes');
    ways.forEach((way, i) => {
      const pass = i % perCentre;
      const isLast = pass === perCentre - 1;
      const radius = isLast ? wall : ((wall - bore.finish) * (pass + 1)) / bore.passes;
      const centre = bore.centres[Math.floor(i / perCentre)].map((hundredths) => hundredths / 100);
      checkWay(bore, way, { radius, centre, levelTurns: isLast ? bore.spring : 1 }, grid);
      checkFeed(bore, way, context.entry.units === 'inch');
    });
    return ways.map(measuresOf);
  });
  for (const other of traces.slice(1)) sameNumbers(other.flat(), traces[0].flat(), grid);
};

test('any bore lies on its wall, goes down evenly, ends level and is fed by the formula, and its forms trace the same path', () => {
  fc.assert(fc.property(anyBore, checkBore), { seed: 5, numRuns: 2000 });
});

describe('where it stands', () => {
  const raw = { bore: 24, tool: 14, depth: 6, lead: 1.5, speed: 3000, feed: 500, at: '5,7' };

  it.each(WITH_OTHER_MODES.map((context): [string, BlockContext] => [nameOf(context), context]))(
    'puts modes, F and S back under %s',
    (_, context) => {
      const { before, after } = modesBehind(runBlock('helical-bore', raw, context).lines, context);
      expect(after).toEqual(before);
    },
  );

  it.each(PLACES_TO_STAND.map((context): [string, BlockContext] => [nameOf(context), context]))(
    'gives the checks nothing to say under %s',
    (_, context) => {
      for (const form of formsUnder(context)) {
        const more = { form, passes: 2, finish: 0.2, 'tool-number': 3, at: '0,0;40,0' };
        const rules = runBlock('helical-bore', { ...raw, ...more }, context).findings.map(({ rule }) => rule);
        // The block stands alone here.
        expect(rules.filter((rule) => rule !== 'program-end-missing')).toEqual([]);
      }
    },
  );

  it('takes a left-hand cutter of the table with M4 and the other way round', () => {
    const row = { number: 3, kind: 'end-mill', diameter: 14, hand: 'left' } as const;
    const context = contextUnder(PROFILES.iso, 'mm', { tools: [row] });
    const { lines, moves } = runBlock('helical-bore', { ...raw, 'tool-number': 3 }, context);
    expect(lines.join('\n')).toContain('M4');
    expect(moves.filter(({ arc }) => arc !== undefined).every(({ arc }) => arc?.clockwise === true)).toBe(true);
  });

  it('needs as long as it says', () => {
    const { facts, moves } = runBlock('helical-bore', { ...raw, passes: 2 });
    const seconds = moves.filter(({ kind }) => kind !== 'rapid').reduce((sum, move) => sum + move.seconds, 0);
    const said = /(\d+) min (\d+) s/.exec(facts.find(({ name }) => name === 'time')?.text ?? '');
    expect(Math.abs(Number(said?.[1]) * 60 + Number(said?.[2]) - seconds)).toBeLessThan(1);
  });
});

const nameOf = ({ configuration, entry }: BlockContext): string =>
  `${configuration.profile.name}, ${entry.units}, G${entry.distance} G${entry.plane} G${entry.feedMode} G${entry.retract}`;

/** What is said of a value, '' where the block is made. */
const said = (
  raw: Record<string, string | number>,
  kind: 'problems' | 'words' = 'problems',
  context = PLACES_TO_STAND[0],
): string =>
  makeBlock('helical-bore', { depth: 10, speed: 3000, feed: 500, ...raw }, context)
    [kind].map(({ parameter, message }) => `${parameter}: ${message}`)
    .join(' | ');

describe('refuses, with what would work', () => {
  it.each<
    [what: string, over: Record<string, string | number>, under: Record<string, string | number>, message: string]
  >([
    [
      'a cutter that does not fit',
      { bore: 20, tool: 20 },
      { bore: 20, tool: 19.9 },
      'tool: A cutter of 20 mm does not fit into a bore of 20 mm. Take one of 17.3 mm or less.',
    ],
    [
      'a core left standing',
      { bore: 24.01, tool: 12 },
      { bore: 24, tool: 12 },
      'tool: A cutter of 12 mm leaves a core of 0.01 mm standing in a bore of 24.01 mm. Take one of 12.1 mm or more, or set passes to 2.',
    ],
    [
      'a core under a corner radius',
      { bore: 22.01, tool: 12, 'corner-radius': 1 },
      { bore: 22, tool: 12, 'corner-radius': 1 },
      'tool: A cutter of 12 mm leaves a core of 0.01 mm standing in a bore of 22.01 mm. Take one of 12.1 mm or more, or set passes to 2.',
    ],
    [
      'a core that the pilot hole does not take away',
      { bore: 30, tool: 12, pilot: 5.99 },
      { bore: 30, tool: 12, pilot: 6 },
      'tool: A cutter of 12 mm leaves a core of 6 mm standing in a bore of 30 mm. Take one of 12.1 mm or more, or set passes to 2.',
    ],
    [
      'too few passes',
      { bore: 48.02, tool: 12, passes: 3 },
      { bore: 48, tool: 12, passes: 3 },
      'passes: A cutter of 12 mm leaves a core of 0.006 mm standing in a bore of 48.02 mm on the first of 3 passes. Set passes to 4.',
    ],
    [
      'a ramp over the limit',
      { bore: 22, tool: 12, lead: 1.65, 'ramp-limit': 3, depth: 16.5 },
      { bore: 22, tool: 12, lead: 1.64, 'ramp-limit': 3, depth: 16.4 },
      'lead: The helix goes down at 3.01° on the centre path, and the cutter may ramp 3°. Give a lead of 1.64 mm or less.',
    ],
    [
      'a ramp angle over the limit',
      {
        bore: 22,
        tool: 12,
        'ramp-angle': 3.01,
        'ramp-limit': 3,
        depth: 2 * Math.PI * 5 * Math.tan((3.01 / 180) * Math.PI),
      },
      { bore: 22, tool: 12, 'ramp-angle': 3, 'ramp-limit': 3 },
      'ramp-angle: The helix goes down at 3.01° on the centre path, and the cutter may ramp 3°. Give a ramp angle of 3° or less.',
    ],
    [
      'lead and ramp angle together',
      { bore: 22, tool: 12, lead: 1, 'ramp-angle': 2 },
      { bore: 22, tool: 12, lead: 1 },
      'ramp-angle: Lead and ramp angle are both given, and each decides the other. Leave one of them out.',
    ],
    [
      'a middle that does not cut without a hole for it',
      { bore: 22, tool: 12, 'centre-cutting': 'no', pilot: 10 },
      { bore: 22, tool: 12, 'centre-cutting': 'no', pilot: 10.01 },
      'pilot: The middle of the cutter does not cut and goes round on a circle of 10 mm, and the pilot hole is 10 mm. Drill a pilot hole of 14 mm, or take a cutter that cuts over its centre.',
    ],
    [
      'a middle that does not cut coming down beside a wide pilot hole',
      { bore: 52, tool: 12, 'centre-cutting': 'no', pilot: 40, lead: 1 },
      { bore: 52, tool: 12, 'centre-cutting': 'no', pilot: 40.02, lead: 1 },
      'pilot: The middle of the cutter does not cut and goes round on a circle of 40 mm, and the pilot hole is 40 mm. Take more passes, or take a cutter that cuts over its centre.',
    ],
    [
      'a ring between passes from a wide pilot hole',
      { bore: 64.02, tool: 12, 'corner-radius': 1, pilot: 24, passes: 2 },
      { bore: 64, tool: 12, 'corner-radius': 1, pilot: 24, passes: 2 },
      'passes: 2 passes take 10.005 mm a side each, and the cutter’s end covers 10 mm: a ring would stand. Set passes to 3.',
    ],
    [
      'a pilot hole as wide as the bore',
      { bore: 22, tool: 12, pilot: 22 },
      { bore: 22, tool: 12, pilot: 21.9 },
      'pilot: A pilot hole of 22 mm is as wide as the bore of 22 mm or wider. Give what is there before boring, or 0.',
    ],
    [
      'a cutter with no flat end',
      { bore: 13, tool: 12, 'corner-radius': 6 },
      { bore: 13, tool: 12, 'corner-radius': 5.5 },
      'corner-radius: A corner radius of 6 mm leaves a cutter of 12 mm no flat end, and a core would stand. Take a cutter with less than 6 mm.',
    ],
    [
      'an allowance that leaves nothing to rough',
      { bore: 22, tool: 12, finish: 4.995 },
      { bore: 22, tool: 12, finish: 4.99, lead: 1 },
      'finish: A finishing allowance of 4.995 mm leaves nothing to be roughed: 5 mm a side is to be cut. Take a smaller one.',
    ],
    [
      'passes of next to nothing',
      { bore: 12.2, tool: 12, passes: 11 },
      { bore: 12.2, tool: 12, passes: 10, lead: 1 },
      'passes: 11 passes would be 0.00909 mm each; the least is 0.01 mm. Take 10 or fewer.',
    ],
    [
      'more blocks than anybody reads',
      { bore: 22, tool: 12, depth: 25.005, lead: 0.005 },
      { bore: 22, tool: 12, depth: 25, lead: 0.005 },
      'form: 5001 turns would be as many blocks; 5000 are the most that are written. Take one block with the number of turns (multi-turn), or a loop, or a larger lead.',
    ],
  ])('%s', (_, over, under, message) => {
    expect(said(over)).toBe(message);
    expect(said(under)).toBe('');
  });

  it('a form that the control does not take', () => {
    const [iso, strict] = [PROFILES.iso, PROFILES.rs274ngc];
    const raw = { bore: 22, tool: 12 };
    expect(said({ ...raw, form: 'loop' }, 'problems', contextUnder(strict))).toContain(
      'form: This control has no loops.',
    );
    const without = contextUnder({ ...iso, turns: { letter: 'none', counts: 'turns' } });
    expect(said({ ...raw, form: 'multi-turn' }, 'problems', without)).toContain(
      'form: This control has no word for several turns',
    );
    expect(said({ ...raw, form: 'loop' }, 'problems', { ...contextUnder(iso), freeVariables: [] })).toContain(
      'all variables from #100',
    );
    const oneLeft = { ...contextUnder(iso), freeVariables: [149] };
    const { lines } = runBlock('helical-bore', { ...raw, form: 'loop', depth: 10, speed: 3000, feed: 500 }, oneLeft);
    expect(lines).toContain('WHILE [#149 LE 9] DO3');
  });

  it('a speed that nothing gives', () => {
    expect(
      makeBlock('helical-bore', { bore: 22, tool: 12, depth: 5 }).problems.map(({ parameter }) => parameter),
    ).toContain('speed');
  });
});

describe('warns, and is made all the same', () => {
  it.each<
    [what: string, over: Record<string, string | number>, under: Record<string, string | number>, message: string]
  >([
    [
      'a bore hardly wider than the cutter',
      { bore: 13.79, tool: 12 },
      { bore: 13.8, tool: 12 },
      'tool: The bore of 13.79 mm is less than 1.15 times the cutter of 12 mm: chips have little room, and the helix is steep. A cutter of 11.9 mm or less is better.',
    ],
    [
      'a steep helix of which no limit is known',
      { bore: 22, tool: 12, lead: 2.8, depth: 14 },
      { bore: 22, tool: 12, lead: 2.7, depth: 13.5 },
      'lead: The helix goes down at 5.09° on the centre path, and no limit of the cutter is known. Hold it against the tool maker’s data; 3° is usual.',
    ],
    [
      'a pilot hole hardly wider than the way of a middle that does not cut',
      { bore: 22, tool: 12, 'centre-cutting': 'no', pilot: 13.9 },
      { bore: 22, tool: 12, 'centre-cutting': 'no', pilot: 14 },
      'pilot: The middle of the cutter does not cut, often a third of its diameter, and the pilot hole of 13.9 mm is little more than the 10 mm it goes round on. Drill a pilot hole of 14 mm, or take a cutter that cuts over its centre.',
    ],
    [
      'flutes shorter than the depth',
      { bore: 22, tool: 12, 'cutting-length': 9.9 },
      { bore: 22, tool: 12, 'cutting-length': 10 },
      'depth: The cutter goes 10 mm deep and its flutes are 9.9 mm long. Take one with longer flutes, or see that its shank clears the wall.',
    ],
    [
      'two bores that run into each other',
      { bore: 22, tool: 12, at: '0,0;22,0' },
      { bore: 22, tool: 12, at: '0,0;22.1,0' },
      'at: Two bores run into each other by 0 mm. Check their centres if that is not meant.',
    ],
  ])('%s', (_, over, under, message) => {
    expect(said(over, 'words')).toBe(message);
    expect(said(over)).toBe('');
    expect(said(under, 'words')).toBe('');
  });
});

describe('the lead', () => {
  const lead = (raw: Record<string, string | number>): string | undefined =>
    makeBlock('helical-bore', { bore: 22, tool: 12, depth: 10, speed: 3000, feed: 500, ...raw }).facts.find(
      ({ name }) => name === 'lead',
    )?.text;

  it('is a tenth of the cutter, or 3° where that is less, or the limit, made even', () => {
    expect(lead({})).toBe('1.111 mm');
    expect(lead({ bore: 14 })).toBe('0.323 mm');
    expect(lead({ 'ramp-limit': 1 })).toBe('0.526 mm');
    expect(lead({ 'ramp-angle': 2 })).toBe('1 mm');
  });
});

describe('the teeth of the cutter', () => {
  const made = (raw: Record<string, string | number>, more: Parameters<typeof contextUnder>[2] = {}) => {
    const values = { bore: 22, tool: 12, depth: 10, speed: 1000, material: 'steel', ...raw };
    const { facts, words } = makeBlock('helical-bore', values, contextUnder(PROFILES.iso, 'mm', more));
    const fact = (wanted: string): string => facts.find(({ name }) => name === wanted)?.text ?? '';
    return { teeth: fact('flutes'), feed: Number.parseFloat(fact('feed')), words };
  };
  const tools = [{ number: 8, diameter: 12, kind: 'end-mill', teeth: 2, fluteLength: 8 } as const];

  it('are as given, else of the tool table, else four; the feed goes with them', () => {
    const usual = made({});
    expect(usual.teeth).toBe('4 (usual)');
    expect(made({ flutes: 3 }).teeth).toBe('3');
    expect(made({ flutes: 3 }).feed / usual.feed).toBeCloseTo(3 / 4, 2);
    const ofTable = made({ 'tool-number': 8 }, { tools });
    expect(ofTable.teeth).toBe('2');
    expect(ofTable.feed / usual.feed).toBeCloseTo(2 / 4, 2);
    expect(made({ 'tool-number': 8, flutes: 6 }, { tools }).feed / usual.feed).toBeCloseTo(6 / 4, 2);
  });

  it('and their length are held against the depth, the given one first', () => {
    expect(made({ 'tool-number': 8 }, { tools }).words).toHaveLength(1);
    expect(made({ 'tool-number': 8, 'cutting-length': 20 }, { tools }).words).toEqual([]);
  });
});

describe('walls that are left', () => {
  const facts = (more: Parameters<typeof contextUnder>[2]): Record<string, string> =>
    Object.fromEntries(
      makeBlock(
        'helical-bore',
        { bore: 22, tool: 12, depth: 10, speed: 3000, feed: 500, at: '20,20;60,20' },
        contextUnder(PROFILES.iso, 'mm', more),
      ).facts.map(({ name, text }) => [name, text]),
    );

  it('are between the bores and to the edge of the blank', () => {
    const box = { offset: 'G54', shape: 'box', min: [0, 0, -30], max: [80, 50, 0] } as const;
    const round = { offset: 'G54', shape: 'cylinder', diameter: 100, centre: [40, 20], top: 0, bottom: -30 } as const;
    expect(facts({ stock: box })).toMatchObject({ wall: '18 mm', edge: '9 mm' });
    expect(facts({ stock: round })).toMatchObject({ wall: '18 mm', edge: '19 mm' });
    expect(facts({ stock: { ...box, max: [71, 50, 0] } })).toMatchObject({
      edge: 'none: the bore runs out of the blank',
    });
  });
});
