import { describe, expect, it, test } from 'vitest';
import { contextUnder, makeBlock, runBlock } from '../../../../tests/harness/blocks.ts';
import { PROFILES } from '../machine/profile.ts';
import { readValues } from './readValues.ts';
import { drillingFor, tapping } from './tapping.ts';

type Raw = Record<string, string | number>;

const M8: Raw = { thread: 'M8', depth: 16, speed: 500, holder: 'synchronised' };
const HEAD: Raw = { ...M8, holder: 'reversing', ratio: 1.75, 'self-feed': 4, 'free-up': 3 };
const FLOAT: Raw = { ...M8, holder: 'float', float: 6 };
const MACHINE = { axes: {}, workOffsets: {} };

const refused = (raw: Raw, context = contextUnder(PROFILES.iso)): string[] => {
  const { lines, problems } = makeBlock('tapping', raw, context);
  expect(lines === undefined).toBe(problems.length > 0);
  return problems.map(({ parameter, message }) => `${parameter}: ${message}`);
};
const factOf = (name: string, raw: Raw, context = contextUnder(PROFILES.iso)): string | undefined =>
  makeBlock('tapping', raw, context).facts.find((fact) => fact.name === name)?.text;
const wordsOf = (raw: Raw, context = contextUnder(PROFILES.iso)): string[] =>
  makeBlock('tapping', raw, context).words.map(({ parameter, message }) => `${parameter}: ${message}`);

describe('a synchronised holder', () => {
  it('takes the whole feed only', () => {
    expect(refused({ ...M8, 'infeed-percent': 100 })).toEqual([]);
    expect(refused({ ...M8, 'infeed-percent': 99.9 })).toEqual([
      'infeed-percent: A synchronised holder gives nothing, and 99.9 % would hold the tap back. Set it to 100.',
    ]);
  });

  it('has no left-hand cycle on a control without G74, and a head needs none', () => {
    const strict = contextUnder(PROFILES.rs274ngc);
    const message =
      'hand: This control has no G74 for left-hand threads. Mill the thread, or tap it with a self-reversing head.';
    expect(refused({ ...M8, hand: 'left' }, strict)).toEqual([message]);
    expect(refused({ ...FLOAT, hand: 'left' }, strict)).toEqual([message]);
    expect(refused({ ...HEAD, hand: 'left' }, strict)).toEqual([]);
  });

  it('is prepared by the code of the control, where it has one', () => {
    const lines = (code: number) =>
      runBlock('tapping', M8, contextUnder({ ...PROFILES.iso, synchronisedTappingCode: code })).lines.join('\n');
    expect(lines(29)).toContain('M29 S500\nG98 G84');
    // The cycle starts the spindle: it stands before, also where nobody knows whether it turns.
    expect(lines(29)).toMatch(/^M5$/m);
    expect(lines(29)).not.toContain('M3');
    expect(lines(-1)).toContain('S500 M3\n');
    expect(lines(29)).toContain('G80\nM5');
    expect(lines(-1)).not.toContain('M29');
    expect(lines(-1)).not.toContain('M5');
    expect(runBlock('tapping', FLOAT).lines.join('\n')).not.toContain('M29');
  });
});

describe('the holder', () => {
  it('must be told: nothing is assumed', () => {
    const { holder: _, ...open } = M8;
    expect(refused(open)).toEqual([expect.stringMatching(/^holder: Holder is missing\. What the tap is held in, /)]);
    const chain = { operations: 'tap', 'tap.thread': 'M8', 'tap.depth': 16, 'tap.speed': 500 };
    expect(makeBlock('holes', chain).problems.map(({ parameter }) => parameter)).toEqual(['tap.holder']);
    expect(makeBlock('holes', { ...chain, 'tap.holder': 'float' }).problems).toEqual([]);
  });

  it('is that of the tool table or the shop’s file where they have one', () => {
    const { holder: _, ...open } = M8;
    const shop = contextUnder(PROFILES.iso, 'mm', { holder: 'float' });
    expect(runBlock('tapping', open, shop).raw.holder).toBe('float');
    const tools = [{ number: 5, kind: 'tap', thread: 'M8', holder: { kind: 'synchronised' } }] as const;
    const table = contextUnder(PROFILES.iso, 'mm', { tools });
    expect(runBlock('tapping', { ...open, 'tool-number': 5 }, table).raw.holder).toBe('synchronised');
    expect(makeBlock('tapping', open, table).problems.map(({ parameter }) => parameter)).toEqual(['holder']);
  });
});

describe('feed a turn', () => {
  it('is the pitch under G95, and G94 comes back behind the cycle', () => {
    const turn = { ...M8, 'feed-per': 'turn' };
    const text = runBlock('tapping', turn).lines.join('\n');
    expect(text).toMatch(/\nG95\nM29 S500\nG98 G84 .* F1\.25\n(.*\n)*G80\nG94\n/);
    const inch = runBlock('tapping', { ...turn, thread: '1/4-20 UNC' }, contextUnder(PROFILES.iso, 'inch'));
    expect(inch.lines.join('\n')).toMatch(/G84 .* F0\.05\n/);
    expect(inch.findings.map(({ rule }) => rule).filter((rule) => rule !== 'program-end-missing')).toEqual([]);
    // The same way at the same feed.
    const feeds = (raw: Raw) => runBlock('tapping', raw).moves.map(({ kind, to, feed }) => [kind, to, feed]);
    expect(feeds(turn)).toEqual(feeds(M8));
  });

  it('is refused where the control has no G95', () => {
    const strict = contextUnder(PROFILES.rs274ngc);
    expect(refused({ ...M8, 'feed-per': 'turn' }, strict)).toEqual([
      'feed-per: This control has no G95, the feed a turn. Set feed-per to minute.',
    ]);
  });
});

describe('a float', () => {
  it('is fed in at 95 % or more', () => {
    expect(refused({ ...FLOAT, 'infeed-percent': 95 })).toEqual([]);
    expect(refused({ ...FLOAT, 'infeed-percent': 94.9 })).toEqual([
      'infeed-percent: A feed in of 94.9 % draws the float out too far. Set 95 to 100.',
    ]);
  });

  it('never gets less than 95 % by the rounding', () => {
    const { moves } = runBlock('tapping', { ...FLOAT, speed: 333, thread: 'M3', 'infeed-percent': 95 });
    const feed = moves.find(({ kind }) => kind === 'line')?.feed ?? 0;
    expect(feed).toBeGreaterThanOrEqual(333 * 0.5 * 0.95);
    expect(feed).toBeLessThan(333 * 0.5 * 0.95 + 0.01);
  });

  it('is drawn out two thirds of its stroke at most', () => {
    // 5 % of the 40 mm down to the tip (36.25 and three threads of 1.25) are 2 mm: two thirds of 3.
    const raw = { ...FLOAT, depth: 36.25, 'infeed-percent': 95 };
    expect(factOf('float-needed', raw)).toMatch(/^2 mm/);
    expect(refused({ ...raw, float: 3.01 })).toEqual([]);
    expect(refused({ ...raw, float: 2.99 })).toEqual([
      'infeed-percent: Over 40 mm the float is drawn out 2 mm, more than two thirds of its 2.99 mm. Set the feed in to 96 % or more.',
    ]);
    expect(refused({ ...raw, float: 2.99, 'infeed-percent': 96 })).toEqual([]);
  });

  it('has to give the spindle’s run-on too', () => {
    // 0.6 s to the top speed of 3000: 0.1 s at 500, in which it turns 500/60 · 0.1/2 = 0.417 times, so 0.521 mm of M8.
    const machine = { ...MACHINE, topSpeed: 3000, spindleRunUp: 0.6 };
    const context = contextUnder(PROFILES.iso, 'mm', { machine });
    expect(factOf('float-needed', FLOAT, context)).toContain('0.521 mm (0.521 mm of it by spindle run-on)');
    expect(refused({ ...FLOAT, float: 0.53 }, context)).toEqual([]);
    expect(refused({ ...FLOAT, float: 0.52 }, context)).toEqual([
      'speed: The float is drawn out 0.521 mm, 0.521 mm of it by spindle run-on, and it has 0.52 mm. Give a lower speed.',
    ]);
  });

  it('whose stroke is not given gets a word of how much it must be', () => {
    const raw = { ...M8, holder: 'float', depth: 36.25, 'infeed-percent': 95 };
    expect(wordsOf(raw)).toContain('float: The float’s stroke is not given. It must be 3 mm or more.');
    expect(wordsOf({ ...raw, float: 6 }).filter((word) => word.startsWith('float'))).toEqual([]);
  });
});

describe('a self-reversing head', () => {
  it('needs its ratio and its self-feed: there are none that suit all', () => {
    const { ratio, 'self-feed': selfFeed, ...raw } = HEAD;
    expect(refused({ ...raw, ratio })[0]).toMatch(/^self-feed: The self-feed of the self-reversing head is missing/);
    expect(refused({ ...raw, 'self-feed': selfFeed })[0]).toMatch(
      /^ratio: The ratio of the self-reversing head is missing/,
    );
    expect(refused(HEAD)).toEqual([]);
  });

  it('does not let the tap get ahead by its self-feed', () => {
    // 45 mm of thread and 3.75 of lead less 4 of self-feed are 44.75; 98 % of them leave 0.895, and a little more by F612 for 612.5.
    const raw = { ...HEAD, depth: 45, 'infeed-percent': 98 };
    expect(refused({ ...raw, 'self-feed': 4 })).toEqual([]);
    expect(refused({ ...raw, 'self-feed': 1 })).toEqual([]);
    expect(refused({ ...raw, 'self-feed': 0.9 })).toEqual([
      'infeed-percent: Over 47.85 mm the tap gets 0.995 mm ahead, and the head lets go after 0.9 mm: the thread ends short. Set the feed in to 99 % or more.',
    ]);
    expect(refused({ ...raw, 'self-feed': 0.9, 'infeed-percent': 99 })).toEqual([]);
  });

  it('needs a way that is longer than its self-feed', () => {
    expect(refused({ ...HEAD, depth: 1, 'self-feed': 4.74 })).toEqual([]);
    expect(refused({ ...HEAD, depth: 1, 'self-feed': 4.75 })).toEqual([
      'self-feed: The tap goes 4.75 mm deep with its lead, and the head runs on by 4.75 mm: nothing is left to feed. Take a head with less self-feed, or another holder.',
    ]);
  });

  it('goes in to the depth less its self-feed and out to clearance and free-up, without a wait', () => {
    const { lines } = runBlock('tapping', HEAD);
    const at = lines.indexOf('G0 Z7.75');
    expect(lines.slice(at, at + 3)).toEqual(['G0 Z7.75', 'G9 G1 Z-15.75 F625', 'G1 Z10.75 F1093']);
    expect(lines.join(' ')).not.toMatch(/G4|M5|G84/);
  });

  it('stops exactly by G61.1 where there is no G9, and puts the path control back', () => {
    const strict = contextUnder(PROFILES.rs274ngc);
    const entered = (pathControl: number, isOverrideLocked = false) => ({
      ...strict,
      entry: { ...strict.entry, pathControl, isOverrideLocked },
    });
    expect(runBlock('tapping', HEAD, entered(640)).lines).toEqual(expect.arrayContaining(['G61.1 M49', 'G64 M48']));
    expect(runBlock('tapping', HEAD, entered(610)).lines).toEqual(expect.arrayContaining(['G61.1 M49', 'G61 M48']));
    expect(makeBlock('tapping', HEAD, entered(611)).lines).toEqual(expect.arrayContaining(['M49', 'M48']));
    const locked = makeBlock('tapping', HEAD, entered(611, true)).lines ?? expect.fail();
    expect(locked.some((line) => /M4[89]|G6/.test(line))).toBe(false);
  });
});

describe('the hand', () => {
  it('is the one in the thread’s name where none is given', () => {
    expect(runBlock('tapping', { ...FLOAT, thread: 'M8 LH' }).lines.join('\n')).toMatch(/M4\n(.*\n)*.*G74/);
    expect(runBlock('tapping', { ...FLOAT, hand: 'left' }).lines.join('\n')).toMatch(/M4\n(.*\n)*.*G74/);
  });

  it('must not say another one than the name', () => {
    expect(refused({ ...M8, thread: 'M8 LH', hand: 'right' })).toEqual([
      'hand: M8X1.25 LH is a left-hand thread, and the hand given is right. Take LH out, or set the hand to left.',
    ]);
  });
});

test('a feed that is held back gets a word where the checks cannot know the holder', () => {
  const word =
    'holder: The checks know of a holder by the tool table, and will ask about this feed. Put the tap with its holder into blockwright.json.';
  const row = (kind: 'float' | 'synchronised') =>
    contextUnder(PROFILES.iso, 'mm', { tools: [{ number: 5, kind: 'tap', thread: 'M8', holder: { kind, float: 6 } }] });
  const raw = { ...FLOAT, 'infeed-percent': 98, 'tool-number': 5 };
  expect(wordsOf(raw)).toEqual([word]);
  expect(wordsOf(raw, row('synchronised'))).toEqual([word]);
  expect(wordsOf(raw, row('float'))).toEqual([]);
  expect(wordsOf(raw, contextUnder(PROFILES.iso, 'mm', { holder: 'float' }))).toEqual([]);
  expect(wordsOf({ ...raw, 'infeed-percent': 99.5 })).toEqual([]);
});

test('a feed over the machine’s is refused with the speed that goes', () => {
  const context = contextUnder(PROFILES.iso, 'mm', { machine: { ...MACHINE, topFeed: 1000 } });
  expect(refused({ ...HEAD, speed: 457 }, context)).toEqual([]);
  expect(refused({ ...HEAD, speed: 458 }, context)).toEqual([
    'speed: At 458 rev/min the tap needs a feed of 1001 mm/min, and the machine has 1000 mm/min. Give a speed of 457 or less.',
  ]);
});

describe('the hole before the tap', () => {
  const valuesOf = (raw: Raw) =>
    readValues(
      tapping.parameters,
      Object.fromEntries(Object.entries(raw).map(([name, value]) => [name, String(value)])),
      false,
    ).values;

  it('is offered at the same places, as deep as tap and chips need it', () => {
    // Tip at 16 + 3·1.25, and 1.5 pitches of room: 21.625, on the next tenth.
    expect(drillingFor(valuesOf({ ...M8, at: '1,2;3,4', top: 5 }), contextUnder(PROFILES.iso))).toEqual({
      pattern: 'list',
      at: '1,2;3,4',
      operations: 'drill',
      'drill.diameter': '6.8',
      'drill.depth': '21.7',
      'drill.angle': '118',
      'drill.through': 'no',
      top: '5',
      retract: '10',
    });
  });

  it('goes as deep as the work where the thread goes through', () => {
    const holes = drillingFor(valuesOf({ ...M8, hole: 'through' }), contextUnder(PROFILES.iso));
    expect(holes).toMatchObject({ 'drill.depth': '16', 'drill.through': 'yes' });
  });

  it('is as deep with a head: its self-feed is not programmed, and taps all the same', () => {
    const holes = drillingFor(valuesOf(HEAD), contextUnder(PROFILES.iso));
    expect(holes).toMatchObject({ 'drill.depth': '21.7' });
  });

  it('is wider for a forming tap, and an own size goes by diameter less pitch', () => {
    expect(factOf('tap-drill', { ...M8, forming: 'yes' })).toBe('7.35 mm');
    expect(factOf('tap-drill', { ...M8, thread: '10x0.9' })).toBe('9.1 mm');
    expect(factOf('tap-drill', { ...M8, thread: '1/4-20 UNC' })).toBe('#7 (5.105 mm)');
  });

  it('has no drill in the tables for pipe threads that are formed', () => {
    expect(factOf('tap-drill', { ...M8, thread: 'G1/4', forming: 'yes' })).toBeUndefined();
    expect(wordsOf({ ...M8, thread: 'G1/4', forming: 'yes' })).toEqual([
      'thread: No table here has the drill for G1/4 by a forming tap. Take it from the tap maker’s data.',
    ]);
  });
});
