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

const round = (value: number): number => Number(value.toFixed(2));

/** A boss that can be cut: no ring stands, the turns are few. */
const anyBoss = fc
  .record({
    tool: fc.integer({ min: 20, max: 320 }).map((tenths) => tenths / 10),
    boss: fc.integer({ min: 20, max: 900 }).map((tenths) => tenths / 10),
    share: fc.double({ min: 0.05, max: 0.98, noNaN: true }),
    passes: fc.constantFrom(1, 1, 2, 3),
    depth: fc.integer({ min: 20, max: 3000 }).map((hundredths) => hundredths / 100),
    turns: fc.integer({ min: 1, max: 4 }),
    finish: fc.constantFrom(0, 0, 0.15, 0.3),
    spring: fc.integer({ min: 1, max: 3 }),
    through: fc.boolean(),
    conventional: fc.boolean(),
    top: fc.integer({ min: -300, max: 300 }).map((tenths) => tenths / 10),
    clearance: fc.integer({ min: 5, max: 50 }).map((tenths) => tenths / 10),
    centre: fc.tuple(fc.integer({ min: -9000, max: 9000 }), fc.integer({ min: -9000, max: 9000 })),
    feed: fc.integer({ min: 100, max: 3000 }),
    place: fc.integer({ min: 0, max: PLACES_TO_STAND.length - 1 }),
  })
  .map(({ share, turns, ...rest }) => {
    const stock = round(rest.boss + 2 * (share * rest.tool * rest.passes + rest.finish));
    const total = rest.depth + (rest.through ? 0.5 : 0);
    return { ...rest, stock, total, lead: Math.max(0.005, Number((total / turns).toFixed(4))) };
  });
type AnyBoss = typeof anyBoss extends fc.Arbitrary<infer T> ? T : never;

const rawOf = (boss: AnyBoss, form: string): Record<string, string | number> => ({
  boss: boss.boss,
  stock: boss.stock,
  tool: boss.tool,
  depth: boss.depth,
  lead: boss.lead,
  passes: boss.passes,
  finish: boss.finish,
  spring: boss.spring,
  through: boss.through ? 'yes' : 'no',
  direction: boss.conventional ? 'conventional' : 'climb',
  at: boss.centre.map((hundredths) => hundredths / 100).join(','),
  top: boss.top,
  clearance: boss.clearance,
  speed: 3000,
  feed: boss.feed,
  form,
});

const checkWay = (boss: AnyBoss, way: Way, radius: number, isLast: boolean, grid: number): void => {
  const [x, y] = boss.centre.map((hundredths) => hundredths / 100);
  for (const { arc } of [...way.helix, ...way.level]) {
    near(arc.centre[0], x, grid);
    near(arc.centre[1], y, grid);
    near(arc.radius, radius, grid);
    must(arc.clockwise === !boss.conventional, 'direction');
  }
  const fewest = Math.ceil(boss.total / boss.lead - 1e-9);
  near(way.turns, fewest, 1e-9);
  for (const [i, height] of heightsOf(way).entries()) near(height, boss.top - (boss.total * (i + 1)) / fewest, grid);
  near(way.levelTurns, isLast ? boss.spring : 1, 1e-9);
  for (const { to } of way.level) near(to[2], boss.top - boss.total, grid);
};

/** Down and up happen outside the stock with clearance, and the half circles never come nearer to the boss than the helix. */
const checkOutside = (boss: AnyBoss, way: Way, grid: number): void => {
  const [x, y] = boss.centre.map((hundredths) => hundredths / 100);
  const clear = (boss.stock + boss.tool) / 2 + boss.clearance;
  for (const [px, py] of [way.down.to, way.feedDown.to, way.leadOut.to, way.up.to]) {
    must(Math.hypot(px - x, py - y) > clear - grid, 'too near to the stock');
  }
  const { radius } = way.helix[0].arc;
  for (const { arc, from } of [way.leadIn, way.leadOut]) {
    const [a, b] = [from[0] - arc.centre[0], from[1] - arc.centre[1]];
    for (let i = 0; i <= 24; i++) {
      const turn = (i / 24) * arc.sweep * (Math.PI / 180);
      const [px, py] = [a * Math.cos(turn) - b * Math.sin(turn), a * Math.sin(turn) + b * Math.cos(turn)];
      must(Math.hypot(arc.centre[0] + px - x, arc.centre[1] + py - y) > radius - grid, 'into the boss');
    }
    // Smoothly on to the helix and off it: the half circle touches it from outside, turning the other way.
    must(arc.clockwise === boss.conventional, 'half circle turns the wrong way');
  }
};

/** F_centre = F_wall·(D + d)/D, rounded down by less than a step. */
const checkFeed = (boss: AnyBoss, way: Way, inch: boolean): void => {
  const across = 2 * way.helix[0].arc.radius;
  const wanted = (boss.feed * across) / (across - boss.tool);
  const unit = inch ? 25.4 : 1;
  const step = (wanted / unit >= 10 ? 1 : 0.1) * (inch ? 0.1 : 1) * unit;
  for (const { feed } of [...way.helix, ...way.level]) {
    must(feed < wanted + 0.0026 && feed > wanted - step - 0.0026, `feed ${feed} for ${wanted}`);
  }
};

const checkBoss = (boss: AnyBoss): void => {
  const context = PLACES_TO_STAND[boss.place];
  const grid = context.entry.units === 'inch' ? 0.00254 : 0.001;
  const wall = (boss.boss + boss.tool) / 2;
  const outer = (boss.stock + boss.tool) / 2;
  const other = context.configuration.profile.flow && boss.feed % 2 === 0 ? 'loop' : 'multi-turn';
  const traces = ['turns', other].map((form) => {
    const ways = waysOf(tracedBlock('helical-boss', rawOf(boss, form), context));
    must(ways.length === boss.passes + (boss.finish > 0 ? 1 : 0), 'number of passes');
    for (const [i, way] of ways.entries()) {
      const isLast = i === ways.length - 1;
      const radius = isLast ? wall : outer - ((outer - wall - boss.finish) * (i + 1)) / boss.passes;
      checkWay(boss, way, radius, isLast, grid);
      checkOutside(boss, way, grid);
      checkFeed(boss, way, context.entry.units === 'inch');
    }
    return ways.flatMap(measuresOf);
  });
  sameNumbers(traces[1], traces[0], grid);
};

test('any boss keeps its wall, and the cutter goes in and out beside the stock, evenly, fed by the formula, in every form', () => {
  fc.assert(fc.property(anyBoss, checkBoss), { seed: 5, numRuns: 700 });
});

/** Widths that the flat end sweeps, from the executed passes: do they join from one radius to the other? */
const joins = (radii: readonly number[], flat: number, from: number, to: number): boolean => {
  const rings = radii.map((radius) => [radius - flat / 2, radius + flat / 2]).sort((a, b) => a[0] - b[0]);
  let reached = from;
  for (const [inner, outer] of rings) if (inner <= reached + 1e-6) reached = Math.max(reached, outer);
  return reached >= to - 1e-6;
};

const anyRing = fc.record({
  tool: fc.integer({ min: 40, max: 200 }).map((tenths) => tenths / 10),
  cornerRadius: fc.constantFrom(0, 0, 0.5, 1, 1.5),
  passes: fc.integer({ min: 1, max: 4 }),
  finish: fc.constantFrom(0, 0.2, 3),
  pilot: fc.constantFrom(0, 0, 3, 12, 25),
  width: fc.integer({ min: 60, max: 600 }).map((tenths) => tenths / 10),
});
const COMMON = { depth: 1, lead: 1, speed: 3000, feed: 500 };

test('a bore that is made leaves no core, a boss no ring, and what would leave none is not refused for it', () => {
  fc.assert(
    fc.property(anyRing, ({ tool, cornerRadius, passes, finish, width, pilot }) => {
      const flat = tool - 2 * cornerRadius;
      const raw = { ...COMMON, tool, 'corner-radius': cornerRadius, passes, finish };
      const outer = width / 2 + flat / 2;
      const bored = { ...raw, bore: tool + width, pilot };
      const bore = makeBlock('helical-bore', bored);
      if (bore.lines !== undefined) {
        const radii = waysOf(tracedBlock('helical-bore', bored)).map(({ helix }) => helix[0].arc.radius);
        must(joins(radii, flat, pilot / 2, outer), 'a core stands');
      } else if (bore.problems.some(({ message }) => message.includes('stand'))) {
        const from = Math.max(0, (pilot - tool) / 2);
        const step = (width / 2 - finish - from) / passes;
        const radii = [...Array.from({ length: passes }, (_, i) => from + step * (i + 1)), width / 2];
        must(!joins(radii, flat, pilot / 2, outer), 'refused, although nothing would stand');
      } else must(/nothing to be roughed|as wide as the bore/.test(bore.problems[0].message), bore.problems[0].message);
      const boss = { ...raw, boss: 40, stock: 40 + 2 * width };
      if (makeBlock('helical-boss', boss).lines === undefined) return;
      const radii = waysOf(tracedBlock('helical-boss', boss)).map(({ helix }) => helix[0].arc.radius);
      must(joins(radii, flat, 20 + cornerRadius, 20 + width), 'a ring stands');
    }),
    { seed: 5, numRuns: 600 },
  );
});

describe('where it stands', () => {
  const raw = { boss: 30, stock: 42, tool: 10, depth: 3, lead: 1, speed: 3000, feed: 500, at: '5,7' };
  const nameOf = ({ configuration, entry }: BlockContext): string =>
    `${configuration.profile.name}, ${entry.units}, G${entry.distance} G${entry.plane} G${entry.feedMode} G${entry.retract}`;

  it.each(WITH_OTHER_MODES.map((context): [string, BlockContext] => [nameOf(context), context]))(
    'puts modes, F and S back under %s',
    (_, context) => {
      const { before, after } = modesBehind(runBlock('helical-boss', raw, context).lines, context);
      expect(after).toEqual(before);
    },
  );

  it.each(PLACES_TO_STAND.map((context): [string, BlockContext] => [nameOf(context), context]))(
    'gives the checks nothing to say under %s',
    (_, context) => {
      const more = { passes: 2, finish: 0.2, 'tool-number': 3, at: '0,0;60,0' };
      const rules = runBlock('helical-boss', { ...raw, ...more }, context).findings.map(({ rule }) => rule);
      // The block stands alone here.
      expect(rules.filter((rule) => rule !== 'program-end-missing')).toEqual([]);
    },
  );

  it('needs as long as it says', () => {
    const { facts, moves } = runBlock('helical-boss', { ...raw, passes: 2 });
    const seconds = moves.filter(({ kind }) => kind !== 'rapid').reduce((sum, move) => sum + move.seconds, 0);
    const said = /(\d+) min (\d+) s/.exec(facts.find(({ name }) => name === 'time')?.text ?? '');
    expect(Math.abs(Number(said?.[1]) * 60 + Number(said?.[2]) - seconds)).toBeLessThan(1);
  });

  it('takes the stock of the shop’s file where none is given', () => {
    const stock = { offset: 'G54', shape: 'cylinder', diameter: 50, centre: [0, 0], top: 2, bottom: -30 } as const;
    const context = contextUnder(PROFILES.iso, 'mm', { stock });
    const { lines } = makeBlock('helical-boss', { boss: 40, tool: 10, depth: 3, speed: 3000, feed: 500 }, context);
    // 25 + 5 + 2 beside the axis; from the blank's top.
    expect(lines).toContain('G0 X32. Y0.');
    expect(lines).toContain('G1 Z2. F625');
  });
});

type Raw = Record<string, string | number>;

const said = (raw: Raw): string =>
  makeBlock('helical-boss', { boss: 30, stock: 50, tool: 12, depth: 5, speed: 3000, feed: 500, ...raw })
    .problems.map(({ parameter, message }) => `${parameter}: ${message}`)
    .join(' | ');

describe('refuses, with what would work', () => {
  it.each<[what: string, over: Raw, under: Raw, message: string]>([
    [
      'a stock with nothing to cut',
      { stock: 30 },
      { stock: 30.1 },
      'stock: A stock of 30 mm leaves nothing to cut round a boss of 30 mm. Give the diameter that stands there now.',
    ],
    [
      'a ring left standing',
      { stock: 54.02 },
      { stock: 54 },
      'passes: One pass takes 12.01 mm a side each, and the cutter’s end covers 12 mm: a ring would stand. Set passes to 2.',
    ],
    [
      'a ring under a corner radius',
      { stock: 90.02, passes: 3, 'corner-radius': 1 },
      { stock: 90, passes: 3, 'corner-radius': 1 },
      'passes: 3 passes take 10.003 mm a side each, and the cutter’s end covers 10 mm: a ring would stand. Set passes to 4.',
    ],
    [
      'a middle that does not cut coming down on the stock',
      { stock: 42.02, 'centre-cutting': 'no' },
      { stock: 42, 'centre-cutting': 'no' },
      'centre-cutting: The middle of the cutter does not cut, and with 6.01 mm a side it comes down on the stock. Set passes to 2, or take a cutter that cuts over its centre.',
    ],
    [
      'an allowance wider than the cutter’s end',
      { stock: 70, finish: 12.1 },
      { stock: 70, finish: 12 },
      'finish: A finishing allowance of 12.1 mm is more than the 12 mm that the cutter can take from the side. Take a smaller one.',
    ],
    [
      'bosses too near to one another',
      { at: '0,0;53.99,0' },
      { at: '0,0;54,0' },
      'at: Two bosses are 53.99 mm apart, and the cutter on its way beside one would cut into the other. They must be 54 mm apart, or be cut one by one with a smaller stock.',
    ],
    [
      'a ramp over the limit',
      { lead: 5, depth: 5, 'ramp-limit': 2.1 },
      { lead: 5, depth: 5, 'ramp-limit': 2.2 },
      'lead: The helix goes down at 2.17° on the centre path, and the cutter may ramp 2.1°. Give a lead of 4.83 mm or less.',
    ],
  ])('%s', (_, over, under, message) => {
    expect(said(over)).toBe(message);
    expect(said(under)).toBe('');
  });
});
