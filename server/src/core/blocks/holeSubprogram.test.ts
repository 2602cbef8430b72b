/** Holes with their places in a subprogram: the same work as with the places in the block. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { contextUnder, makeBlock } from '../../../../tests/harness/blocks.ts';
import { GrowingProgram, type Raw } from '../../../../tests/harness/growingProgram.ts';
import { tracedMoves } from '../features/trace.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { PROFILES } from '../machine/profile.ts';

const CHAIN: Raw = {
  operations: 'spot,drill,tap',
  'tool-number': 1,
  'spot.speed': 900,
  'spot.feed': 90,
  'drill.tool-number': 2,
  'drill.speed': 1200,
  'drill.feed': 120,
  'tap.tool-number': 3,
  'tap.thread': 'M6',
  'tap.depth': 12,
  'tap.speed': 300,
  'tap.holder': 'synchronised',
};

interface Way {
  readonly profile: string;
  readonly units: string;
  readonly numbered: boolean;
}

/** A whole program with the holes in one form; with the subprogram behind its end where the form calls one. */
const programWith = ({ profile, units, numbered }: Way, raw: Raw): GrowingProgram => {
  const program = new GrowingProgram({
    ...DEFAULT_CONFIGURATION,
    profile: PROFILES[profile],
    blockNumbers: { write: numbered, start: 10, step: 10 },
  });
  program
    .add('start', { units })
    .add('tool-section', { 'tool-number': 9, title: 'PLUG', speed: 900 })
    .add('holes', raw)
    .add('end', {});
  return raw.form === 'calls' ? program.add('holes', { ...raw, form: 'places' }) : program;
};

const movesOf = (program: GrowingProgram): unknown[] =>
  [...tracedMoves(program.run(), {})].map(({ kind, from, to, feed, speed, tool }) => [
    kind,
    from,
    to,
    feed,
    speed,
    tool,
  ]);

const patterns = fc.oneof(
  fc.record({
    pattern: fc.constant('row'),
    count: fc.integer({ min: 2, max: 7 }),
    spacing: fc.integer({ min: 10, max: 40 }),
    angle: fc.integer({ min: -180, max: 180 }),
  }),
  fc.record({
    pattern: fc.constantFrom('grid', 'frame'),
    count: fc.constantFrom('2,3', '4,3'),
    spacing: fc.constantFrom('12,15', '20'),
  }),
  fc.record({
    pattern: fc.constant('circle'),
    count: fc.integer({ min: 3, max: 9 }),
    radius: fc.integer({ min: 30, max: 60 }),
  }),
);
const ways = fc.record({
  profile: fc.constantFrom('iso', 'iso-macro'),
  units: fc.constantFrom('mm', 'inch'),
  numbered: fc.boolean(),
});

describe('holes by calls of a subprogram', () => {
  it('do the same, move for move, as with all places in the block, and the checks say nothing', () => {
    fc.assert(
      fc.property(ways, patterns, fc.constantFrom('retract', 'clearance'), (way, pattern, between) => {
        const raw: Raw = { ...CHAIN, ...pattern, between, program: 1234 };
        const called = programWith(way, { ...raw, form: 'calls' });
        expect(movesOf(called).length).toBeGreaterThan(20);
        const calls = called.lines.filter((line) => /M98 P1234$/.test(line));
        expect(calls).toHaveLength(3);
        expect(called.findings()).toEqual([]);
        expect(movesOf(called)).toEqual(movesOf(programWith(way, { ...raw, form: 'cycles' })));
      }),
      { seed: 20261128, numRuns: 40 },
    );
  });

  it('come back from their remarks', () => {
    const raw = { ...CHAIN, pattern: 'row', count: 4, spacing: 12, form: 'calls', program: 1500 };
    const { lines, raw: marked, words } = makeBlock('holes', raw);
    expect(marked).toMatchObject({ form: 'calls', program: '1500' });
    expect(makeBlock('holes', marked).lines).toEqual(lines);
    expect(words.map(({ message }) => message)).toEqual([
      'The subprogram O1500 must stand behind the program’s end. Write it there by the same values with form=places.',
    ]);
    expect(makeBlock('holes', { ...marked, form: 'places' }).lines).toEqual([
      'O1500',
      '( PLACES OF THE HOLES BEHIND THE FIRST )',
      'X12. Y0.',
      'X24. Y0.',
      'X36. Y0.',
      'M99',
    ]);
  });

  it.each([
    ['a control without subprograms', { ...CHAIN, program: 1500 }, 'rs274ngc', 'form'],
    ['one hole', { ...CHAIN, pattern: 'list', at: '0,0', program: 1500 }, 'iso', 'form'],
    [
      'a self-reversing head',
      { ...CHAIN, 'tap.holder': 'reversing', 'tap.ratio': 2, 'tap.self-feed': 2, program: 1500 },
      'iso',
      'form',
    ],
    ['no number', CHAIN, 'iso', 'program'],
  ])('are refused for %s', (_, raw, profile, parameter) => {
    const row: Raw = { pattern: 'row', count: 3, spacing: 12, ...raw };
    const typed = 'at' in raw ? { ...raw } : row;
    for (const form of ['calls', 'places']) {
      const { problems } = makeBlock('holes', { ...typed, form }, contextUnder(PROFILES[profile]));
      expect(problems.map((problem) => problem.parameter)).toEqual([parameter]);
    }
  });
});
