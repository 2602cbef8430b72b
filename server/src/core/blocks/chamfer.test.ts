import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { runBatch } from '../../../../tests/harness/blockBatch.ts';
import { makeBlock, runBlock } from '../../../../tests/harness/blocks.ts';
import { PLACES_TO_STAND } from '../../../../tests/harness/helixWays.ts';
import { distanceFrom, outsideBy, type RoundedRectangle } from '../../../../tests/harness/sweptArea.ts';
import type { TracedMove } from '../features/trace.ts';

const hundredths = (least: number, most: number) =>
  fc.integer({ min: least * 100, max: most * 100 }).map((n) => n / 100);

const anyChamfer = fc.record({
  size: hundredths(0.1, 2),
  'point-angle': fc.constantFrom(60, 82, 90, 120),
  tip: fc.constantFrom(0, 0, 0.5, 2),
  'tip-offset': fc.constantFrom(0.2, 0.5, 1),
  stepdown: fc.constantFrom(0.3, 10),
  side: fc.constantFrom('internal', 'external'),
  direction: fc.constantFrom('climb', 'conventional'),
  isRound: fc.boolean(),
  /** Beyond what the cone has room in. */
  longer: hundredths(0, 40),
  wider: hundredths(0, 40),
  rounder: hundredths(0, 3),
  angle: fc.constantFrom(0, 0, 90, 33),
  at: fc.constantFrom('0,0', '-20.5,7'),
  top: fc.constantFrom(0, -2.5),
  /** Which way from the centre, and how far into the metal as a part of the chamfer, to look at it. */
  looks: fc.array(fc.tuple(fc.integer({ min: 0, max: 359 }), fc.integer({ min: 0, max: 150 })), {
    minLength: 12,
    maxLength: 12,
  }),
});
type AnyChamfer = typeof anyChamfer extends fc.Arbitrary<infer T> ? T : never;

const slopeOf = (values: AnyChamfer): number => Math.tan((values['point-angle'] * Math.PI) / 360);
const lowerOf = (values: AnyChamfer): number => values.tip / 2 + values['tip-offset'] * slopeOf(values);

const rawOf = (values: AnyChamfer) => {
  const { isRound, longer, wider, rounder, looks: _, angle, ...raw } = values;
  const least = 2 * (lowerOf(values) + values.size) + 0.5;
  const [length, width] = [least + longer, least + wider];
  const corner = Math.min(values.side === 'internal' ? lowerOf(values) + rounder : rounder, length / 2, width / 2);
  const contour = isRound ? { diameter: length } : { length, width, corner, angle };
  return { tool: least, speed: 6000, feed: 600, ...raw, ...contour };
};

const contourOf = (values: AnyChamfer): RoundedRectangle => {
  const raw: { diameter?: number; length?: number; width?: number; corner?: number } = rawOf(values);
  const [x, y] = values.at.split(',').map(Number);
  const round = raw.diameter === undefined ? undefined : raw.diameter / 2;
  return {
    centre: [x, y],
    halfLength: round ?? (raw.length ?? 0) / 2,
    halfWidth: round ?? (raw.width ?? 0) / 2,
    corner: round ?? raw.corner ?? 0,
    angle: values.isRound ? 0 : values.angle,
  };
};

/** A place so far from the contour's wall, outside of it (or inside, with less than 0), in a direction from its centre. */
const placeBeyond = (contour: RoundedRectangle, degrees: number, far: number): readonly [number, number] => {
  const [dx, dy] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  const at = (way: number): readonly [number, number] => [contour.centre[0] + dx * way, contour.centre[1] + dy * way];
  let [low, high] = [0, 500];
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (outsideBy(at(middle), contour) < far) low = middle;
    else high = middle;
  }
  return at(low);
};

/**
 * The surface that the cone leaves, against the chamfer: at a distance t from the wall into the metal it is depth·(1 − t/size)
 * below the top, and beyond the chamfer it is not touched. @throws
 */
const check = (moves: readonly TracedMove[], values: AnyChamfer, inch: boolean): void => {
  const { side, size, tip, top, looks } = values;
  const contour = contourOf(values);
  const depth = size / slopeOf(values);
  const cuts = moves.filter(({ kind }) => kind === 'line' || kind === 'arc');
  // Half a last digit of X, Y and Z, the former steeper by the cone.
  const room = (inch ? 0.005 : 0.003) * (1 + 1 / slopeOf(values));
  for (const [degrees, percent] of looks) {
    const into = (size * percent) / 100;
    const inside = side === 'external' ? -into : into;
    const place = placeBeyond(contour, degrees, inside);
    // Near the middle of a small part all sides meet.
    if (side === 'external' && Math.abs(outsideBy(place, contour) - inside) > 1e-6) continue;
    const left = Math.min(
      ...cuts.map((move) => {
        const beside = Math.max(0, distanceFrom(place, move) - tip / 2);
        return Math.min(move.from[2], move.to[2]) + beside / slopeOf(values);
      }),
    );
    const wanted = top - depth * Math.max(0, 1 - percent / 100);
    const off = percent < 100 ? Math.abs(left - wanted) : Math.max(0, top - left);
    if (off > room) throw new Error(`${off} off at ${degrees}, ${percent} %: ${JSON.stringify(values)}`);
  }
};

describe('the cone of a chamfer', () => {
  it('leaves the chamfer that was asked for, inside and outside', () => {
    const cases = fc.array(anyChamfer, { minLength: 25, maxLength: 25 });
    fc.assert(
      fc.property(fc.constantFrom(...PLACES_TO_STAND), cases, (context, all) => {
        const blocks = runBatch('chamfer', all.map(rawOf), context);
        for (const [i, { moves }] of blocks.entries()) check(moves, all[i], context.entry.units === 'inch');
      }),
      { seed: 1, numRuns: 60 },
    );
  });

  it('is proved under every profile', () => {
    fc.assert(
      fc.property(fc.constantFrom(...PLACES_TO_STAND), anyChamfer, (context, values) => {
        check(runBlock('chamfer', rawOf(values), context).moves, values, context.entry.units === 'inch');
      }),
      { seed: 2, numRuns: 80 },
    );
  });

  it('goes round in the direction asked for: climb is counter-clockwise inside and clockwise outside', () => {
    for (const [side, direction, clockwise] of [
      ['internal', 'climb', false],
      ['internal', 'conventional', true],
      ['external', 'climb', true],
      ['external', 'conventional', false],
    ] as const) {
      const raw = { size: 1, tool: 12, side, direction, speed: 6000, feed: 600 };
      const round = runBlock('chamfer', { ...raw, diameter: 40 }).moves.find(
        ({ arc }) => arc !== undefined && Math.abs(arc.sweep) > 359,
      );
      expect(round?.arc?.clockwise).toBe(clockwise);
      const corners = runBlock('chamfer', { ...raw, length: 40, width: 30, corner: 5 }).moves.filter(
        ({ arc }) => arc !== undefined && Math.abs(arc.radius - (side === 'internal' ? 4.5 : 5.5)) < 0.01,
      );
      expect(corners.map(({ arc }) => arc?.clockwise)).toEqual([clockwise, clockwise, clockwise, clockwise]);
    }
  });
});

describe('a chamfer refuses', () => {
  const said = (raw: Record<string, string | number>): string[] =>
    makeBlock('chamfer', { size: 1, tool: 12, speed: 6000, feed: 600, ...raw }).problems.map(({ message }) => message);

  it('no contour, and two', () => {
    expect(said({})).toEqual(['The contour is missing. Give its diameter, or length and width of a rectangle.']);
    expect(said({ length: 30 })).toEqual([
      'The contour is missing. Give its diameter, or length and width of a rectangle.',
    ]);
    expect(said({ diameter: 30, width: 20 })).toEqual([
      'A contour is round or rectangular. Give either the diameter, or length and width.',
    ]);
    expect(said({ diameter: 30 })).toEqual([]);
  });

  it('a chamfer that is wider than the cutter', () => {
    expect(said({ diameter: 30, size: 5.6 })).toEqual([
      'The chamfer ends where the cutter has to be 12.2 mm across, and it is 12 mm. Give a chamfer of 5.5 mm or less, take a larger cutter, or put the tip less far below it.',
    ]);
    expect(said({ diameter: 30, size: 5.5 })).toEqual([]);
    expect(said({ diameter: 30, 'tip-offset': 6 })[0]).toContain('Put the tip less than 6 mm below the chamfer');
  });

  it('no measure, and two that do not agree', () => {
    const all = { tool: 12, speed: 6000, feed: 600, diameter: 30 };
    const of = (raw: Record<string, number>) =>
      makeBlock('chamfer', { ...all, ...raw }).problems.map((one) => one.message);
    expect(of({})).toEqual(['The chamfer has no measure. Give how deep it goes, or how wide it is from above.']);
    expect(of({ size: 1, depth: 1.2 })).toEqual([
      'With this point angle a chamfer 1 mm wide goes 1 mm down, not 1.2 mm. Give only one of the two.',
    ]);
    expect(of({ size: 1, depth: 1 })).toEqual([]);
    const body = (raw: Record<string, number>): readonly string[] =>
      makeBlock('chamfer', { ...all, ...raw, 'point-angle': 60 }).lines?.filter(
        (line) => !line.includes('BLOCKWRIGHT'),
      ) ?? [];
    expect(body({ depth: Math.sqrt(3) })).toEqual(body({ size: 1 }));
    expect(body({ size: 1 }).length).toBeGreaterThan(8);
  });

  it('a tip as large as the cutter', () => {
    expect(said({ diameter: 30, tip: 12 })).toEqual([
      'A tip of 12 mm is as large as the cutter of 12 mm. Give the cutter’s largest diameter, and the flat at its tip.',
    ]);
    expect(said({ diameter: 30, tip: 8 })).toEqual([]);
  });

  it('a hole without room for the cone', () => {
    expect(said({ diameter: 2.9 })).toEqual([
      'The cutter is 3 mm across where the chamfer of 1 mm ends, and has no room to go round in 2.9 mm. Put the tip less far below, or countersink straight down.',
    ]);
    expect(said({ diameter: 3 })).toEqual([]);
  });

  it('inside corners that the cone would cut into', () => {
    expect(said({ length: 30, width: 20, corner: 0.4 })).toEqual([
      'Inside corners of 0.4 mm are too sharp for a cone that is 1 mm across at the chamfer’s lower edge: it would cut into them. The least is 0.5 mm; put the tip less far below, or give the corners as they are.',
    ]);
    expect(said({ length: 30, width: 20, corner: 0.5 })).toEqual([]);
    expect(said({ length: 30, width: 20, side: 'external' })).toEqual([]);
  });

  it('corners that do not fit into the width', () => {
    expect(said({ length: 30, width: 20, corner: 10.1 })).toEqual([
      'Corners of 10.1 mm do not fit into a width of 20 mm. The most is 10 mm.',
    ]);
    expect(said({ length: 30, width: 20, corner: 10 })).toEqual([]);
  });

  it('nothing, with a word on a tip that cuts itself', () => {
    const words = (offset: number): number =>
      makeBlock('chamfer', { diameter: 30, size: 1, tool: 12, speed: 6000, feed: 600, 'tip-offset': offset }).words
        .length;
    expect(words(0)).toBe(1);
    expect(words(0.1)).toBe(0);
  });
});
