/** Speeds and feeds as given, as computed, and beyond sense. */
import { describe, expect, it } from 'vitest';
import { contextUnder, makeBlock } from '../../../../tests/harness/blocks.ts';
import { PROFILES } from '../machine/profile.ts';

const FACE = { length: 60, width: 40, tool: 50, depth: 1, feed: 600 };
const said = (name: string, raw: Readonly<Record<string, string | number>>, machine?: { topSpeed: number }) => {
  const shop = machine === undefined ? {} : { machine: { axes: {}, workOffsets: {}, ...machine } };
  const { words, problems } = makeBlock(name, raw, contextUnder(PROFILES.iso, 'mm', shop));
  const texts = (all: typeof words) => all.map(({ parameter, message }) => `${parameter}: ${message}`);
  return {
    words: texts(words).filter((text) => /^(?:\w+\.)?(?:cutting-)?speed: /.test(text)),
    problems: texts(problems),
  };
};

describe('a speed beyond sense', () => {
  it('is told from twice the highest cutting speed of the material on', () => {
    // Carbide in steel: 160 m/min at most, so 320 m/min with 50 mm are 2037.2 rev/min.
    expect(said('face', { ...FACE, material: 'steel', speed: 2037 })).toEqual({ words: [], problems: [] });
    expect(said('face', { ...FACE, material: 'steel', speed: 2038 })).toEqual({
      words: [
        'speed: 2038 rev/min is 320.1 m/min with 50 mm, more than twice the 160 m/min that carbide stands in steel. Check the number: 1018 or less is usual.',
      ],
      problems: [],
    });
  });

  it('is told from twice the highest of any material where none is given', () => {
    // Carbide in aluminium: 500 m/min at most.
    expect(said('face', { ...FACE, speed: 6366 }).words).toEqual([]);
    expect(said('face', { ...FACE, speed: 6367 }).words).toEqual([
      expect.stringMatching(/^speed: 6367 rev\/min .* that carbide stands in the softest material\./),
    ]);
    expect(said('face', { ...FACE, 'cutting-speed': 1001 }).words).toEqual([
      expect.stringMatching(/^cutting-speed: 6373 rev\/min is 1001\.1 m\/min/),
    ]);
  });

  it('names the operation that it is of', () => {
    const drill = { 'drill.diameter': 10, 'drill.depth': 10, 'drill.feed': 100 };
    // High-speed steel in aluminium: 100 m/min at most.
    expect(said('holes', { ...drill, 'drill.speed': 6366 }).words).toEqual([]);
    expect(said('holes', { ...drill, 'drill.speed': 6367 }).words).toEqual([
      expect.stringMatching(/^drill\.speed: Drill: 6367 rev\/min .* that high-speed steel stands/),
    ]);
  });

  it('is refused where the machine’s limit is known, and a word less', () => {
    const { problems } = said('face', { ...FACE, speed: 60_000 }, { topSpeed: 12_000 });
    expect(problems).toEqual(['speed: Speed 60000 rev/min is over the machine’s 12000 rev/min. Give 12000 or less.']);
    expect(said('face', { ...FACE, speed: 60_000 }).words).toHaveLength(1);
  });
});
