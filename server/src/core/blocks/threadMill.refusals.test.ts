import { describe, expect, it } from 'vitest';
import { contextUnder, makeBlock, runBlock } from '../../../../tests/harness/blocks.ts';
import { PROFILES } from '../machine/profile.ts';

type Raw = Record<string, string | number>;

const M20: Raw = { thread: 'M20', depth: 25, tool: 12, speed: 2000, feed: 400 };

const refused = (raw: Raw): string[] => {
  const { lines, problems } = makeBlock('thread-mill', raw);
  expect(lines === undefined).toBe(problems.length > 0);
  return problems.map(({ parameter, message }) => `${parameter}: ${message}`);
};
const wordsOf = (raw: Raw): string[] =>
  makeBlock('thread-mill', raw).words.map(({ parameter, message }) => `${parameter}: ${message}`);
const factOf = (name: string, raw: Raw): string | undefined =>
  makeBlock('thread-mill', raw).facts.find((fact) => fact.name === name)?.text;

describe('the cutter', () => {
  it('must go into the hole: its minor diameter', () => {
    // M20: 20 − 1.082532 · 2.5 = 17.294.
    expect(refused({ ...M20, tool: 17.29 })).toEqual([]);
    expect(refused({ ...M20, tool: 17.294 })).toEqual([
      'tool: A cutter of 17.294 mm does not go into the hole of M20X2.5, 17.294 mm wide. Take one of 14 mm or less.',
    ]);
    expect(refused({ ...M20, tool: 40 })).toHaveLength(1);
    expect(refused({ ...M20, tool: 40, side: 'external' })).toEqual([]);
  });

  it('of more than 70 % of a coarse thread gets a word, of more than 80 % of a fine one', () => {
    expect(wordsOf({ ...M20, tool: 14 })).toEqual([]);
    expect(wordsOf({ ...M20, tool: 14.1 })).toEqual([
      'tool: A cutter of 14.1 mm is 71 % of the thread, and above 70 % it cuts the flanks thin. Take one of 14 mm or less.',
    ]);
    expect(wordsOf({ ...M20, thread: 'M20X1.5', tool: 16 })).toEqual([]);
    expect(wordsOf({ ...M20, thread: 'M20X1.5', tool: 16.1 })[0]).toContain('above 80 %');
    expect(wordsOf({ ...M20, thread: 'G1/2', tool: 16.7 })).toEqual([]);
    expect(wordsOf({ ...M20, thread: 'G1/2', tool: 16.8 })[0]).toContain('above 80 %');
    expect(wordsOf({ ...M20, thread: '1/2-13 UNC', tool: 8.9 })[0]).toContain('above 70 %');
    expect(wordsOf({ ...M20, thread: '1/2-20 UNF', tool: 10 })).toEqual([]);
  });

  it('of a size outside the tables goes by the nearest coarse thread', () => {
    expect(wordsOf({ ...M20, thread: '21x2.5', tool: 15 })[0]).toContain('above 70 %');
    expect(wordsOf({ ...M20, thread: '21x1.5', tool: 15 })).toEqual([]);
  });
});

describe('a cutter of many forms', () => {
  const many: Raw = { ...M20, teeth: 'multi' };

  it('needs its cutting length, of two pitches or more', () => {
    expect(refused(many)).toEqual([
      'cutting-length: The cutting length of the cutter of many forms is missing. Give the length of its teeth.',
    ]);
    expect(refused({ ...many, 'cutting-length': 5 })).toEqual([]);
    expect(refused({ ...many, 'cutting-length': 4.99 })).toEqual([
      'cutting-length: A cutting length of 4.99 mm is less than two pitches of 2.5 mm. Set the teeth to single, or give 5 mm or more.',
    ]);
  });

  it('cuts a thread as long as itself in one turn, and a longer one in stages that overlap by a thread', () => {
    expect(factOf('turns', { ...many, 'cutting-length': 25 })).toBe('1');
    expect(factOf('stages', { ...many, 'cutting-length': 25 })).toBeUndefined();
    expect(factOf('turns', { ...many, 'cutting-length': 24.9 })).toBe('2');
    expect(factOf('stages', { ...many, 'cutting-length': 24.9 })).toBe('2, 20 mm apart');
  });
});

describe('the thread', () => {
  it('is cylindrical', () => {
    expect(refused({ ...M20, thread: '1/2 NPT' })).toEqual([
      'thread: 1/2 NPT is a taper thread, and this block mills cylindrical ones. Tap it, or take a thread such as G.',
    ]);
  });

  it('must not say another hand than its name', () => {
    expect(refused({ ...M20, thread: 'M20 LH', hand: 'right' })[0]).toContain('M20X2.5 LH is a left-hand thread');
    expect(factOf('way', { ...M20, thread: 'M20 LH' })).toBe('G3 downward');
    expect(factOf('way', M20)).toBe('G3 upward');
  });

  it('takes 5000 turns at most', () => {
    expect(factOf('turns', { ...M20, thread: '20x0.1', depth: 500 })).toBe('5000');
    expect(refused({ ...M20, thread: '20x0.1', depth: 500.1 })).toEqual([
      'depth: The thread takes 5001 turns, a block for each; 5000 are the most. Take less depth or fewer passes.',
    ]);
  });
});

it('goes by the work’s zero, and in the tool’s own section where a tool is called', () => {
  const row = { number: 4, kind: 'thread-mill', diameter: 12, teeth: 5, fluteLength: 30, thread: 'M20' } as const;
  const context = contextUnder(PROFILES.iso, 'mm', { tools: [row] });
  const block = runBlock('thread-mill', { depth: 25, speed: 2000, 'tool-number': 4, feed: 500 }, context);
  expect(block.lines.join('\n')).toContain('THREAD MILL D12 M20X2.5');
  expect(block.facts.find(({ name }) => name === 'chip-load')?.text).toMatch(/^0\.05 mm\/tooth/);
  // Thread, cutter and cutting length come from the tool table.
  expect(block.raw).toMatchObject({ thread: 'M20', tool: '12' });
});

it('never feeds faster than the machine does', () => {
  const machine = { axes: {}, workOffsets: {}, topFeed: 1000 };
  const context = contextUnder(PROFILES.iso, 'mm', { machine });
  const { moves } = runBlock('thread-mill', { ...M20, side: 'external', feed: 900 }, context);
  expect(Math.max(...moves.filter(({ kind }) => kind === 'arc').map(({ feed }) => feed))).toBe(1000);
});
