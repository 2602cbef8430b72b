/** Start, tool section, end and subprogram: put together with a block, the checks have nothing to say. */
import { describe, expect, it } from 'vitest';
import { contextUnder, makeBlock } from '../../../../tests/harness/blocks.ts';
import { GrowingProgram, type Raw } from '../../../../tests/harness/growingProgram.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { PROFILES } from '../machine/profile.ts';
import { BLOCKS } from './registry.ts';

const under = (profile: string, more: Partial<Configuration> = {}): Configuration => ({
  ...DEFAULT_CONFIGURATION,
  profile: PROFILES[profile],
  ...more,
});

const BORE = { bore: 25, tool: 16, depth: 8, speed: 2500, feed: 300, at: '20,15' };
const CASES = Object.keys(PROFILES).flatMap((profile) =>
  (['mm', 'inch'] as const).map((units) => [profile, units] as const),
);

describe('a program put together from its parts', () => {
  it.each(CASES)('under %s in %s keeps the checks silent', (profile, units) => {
    const program = new GrowingProgram(under(profile))
      .add('start', { units, title: 'plate, first side', 'tape-mark': 'yes' })
      .add('tool-section', { 'tool-number': 3, title: 'END MILL D16', speed: 2500, at: '20,15', top: 2 })
      .add('helical-bore', BORE)
      .add('tool-section', { 'tool-number': 4, speed: 1800, coolant: 'none' })
      .add('helical-bore', { ...BORE, speed: 1800, at: '60,15' })
      .add('end', { table: 'yes' });
    expect(program.findings()).toEqual([]);
    expect(program.lines.at(-1)).toBe('%');
    expect(program.here().entry.units).toBe(units);
  });

  it.each(CASES)('under %s in %s with block numbers, G53 and M2 as well', (profile, units) => {
    const machine = { axes: { Z: { reference: 50 } }, workOffsets: {} };
    const numbered = under(profile, { machine, blockNumbers: { write: true, start: 10, step: 10 } });
    const program = new GrowingProgram(numbered)
      .add('start', { units })
      .add('tool-section', { 'tool-number': 3, speed: 2500, home: 'machine' })
      .add('helical-bore', BORE)
      .add('end', { home: 'machine', table: 'yes', code: 'm2' });
    expect(program.findings()).toEqual([]);
    expect(program.lines.join('\n')).toContain(units === 'mm' ? 'G90 G53 G0 Z50.' : 'G90 G53 G0 Z1.9685');
    const numbers = program.lines.flatMap((line) => /^N(\d+)/.exec(line)?.[1] ?? []).map(Number);
    expect(numbers).toEqual(numbers.map((_, i) => 10 + 10 * i));
  });
});

/** A tool's remark and values that each kind of block can be made of. */
const EXAMPLES: Readonly<Record<string, readonly [tool: string, raw: Raw]>> = {
  tapping: ['TAP M8', { thread: 'M8', depth: 12, speed: 400, holder: 'synchronised', at: '10,10;30,10' }],
  'helical-bore': ['END MILL D16 4FL', BORE],
  'helical-boss': ['END MILL D16 4FL', { boss: 20, stock: 40, tool: 16, depth: 6, speed: 2500, feed: 300 }],
  'clear-tap': ['END MILL D3 4FL', { thread: 'M6', tool: 3, 'broken-at': 2, length: 3, speed: 5000, feed: 60 }],
  'thread-mill': ['THREAD MILL D8', { thread: 'M12', tool: 8, depth: 12, speed: 2500, feed: 300 }],
  holes: [
    'DRILL D8',
    {
      pattern: 'row',
      count: 3,
      spacing: 20,
      'drill.diameter': 8,
      'drill.depth': 15,
      'drill.speed': 1200,
      'drill.feed': 150,
    },
  ],
  'round-pocket': ['END MILL D12 3FL', { diameter: 40, tool: 12, depth: 6, speed: 2500, feed: 300 }],
  'rectangular-pocket': ['END MILL D12 3FL', { length: 60, width: 40, tool: 12, depth: 6, speed: 2500, feed: 300 }],
  slot: ['END MILL D8 3FL', { length: 50, width: 10, tool: 8, depth: 5, speed: 3000, feed: 250 }],
  face: ['FACE MILL D50', { length: 100, width: 60, tool: 50, depth: 1, speed: 1500, feed: 600 }],
  chamfer: ['CHAMFER MILL D10 90DEG', { diameter: 40, tool: 10, size: 1, speed: 3000, feed: 300 }],
};

describe('each kind of block between start, tool section and end', () => {
  const kinds = BLOCKS.filter(({ isPart }) => isPart !== true).flatMap(({ name }) =>
    CASES.map(([profile, units]) => [name, profile, units] as const),
  );

  it.each(kinds)('%s under %s in %s keeps the checks silent', (name, profile, units) => {
    const [title, raw] = EXAMPLES[name] ?? expect.fail(`${name} has no example here`);
    const speed = raw.speed ?? raw['drill.speed'];
    const program = new GrowingProgram(under(profile))
      .add('start', { units })
      .add('tool-section', { 'tool-number': 3, title, speed })
      .add(name, raw)
      .add('end', {});
    expect(program.findings()).toEqual([]);
  });
});

describe('start', () => {
  it('states unit, plane, offset and every mode that may be left on', () => {
    const { lines } = makeBlock('start', { program: 12, title: 'Räder (links)', offset: 'g55' });
    expect(lines).toEqual(['O0012', '( RADER LINKS )', 'G21', 'G17 G40 G49 G80 G90 G94 G98', 'G55']);
  });

  it('takes the next program number that is free', () => {
    const program = new GrowingProgram(under('iso')).add('start', {}).add('end', {});
    expect(makeBlock('start', {}, program.here()).lines?.[0]).toBe('O1001');
  });

  it('has no program number where the control has none, and says so where one is given', () => {
    const { lines, words } = makeBlock('start', { program: 5 }, contextUnder(PROFILES.rs274ngc));
    expect(lines?.[0]).toBe('G21');
    expect(words.map(({ parameter }) => parameter)).toEqual(['program']);
    expect(makeBlock('start', { program: 5 }).words).toEqual([]);
  });

  it.each([
    ['G54.1 P3', 'G54.1 P3'],
    ['g59.3', 'G59.3'],
    ['G54.1P12', 'G54.1 P12'],
  ])('takes the work offset %s', (offset, written) => {
    expect(makeBlock('start', { offset }).lines?.at(-1)).toBe(written);
  });

  it.each(['G53', 'G60', '54', 'G59.4'])('refuses %s as a work offset', (offset) => {
    const { lines, problems } = makeBlock('start', { offset });
    expect(lines).toBeUndefined();
    expect(problems.map(({ parameter }) => parameter)).toEqual(['offset']);
  });
});

describe('tool-section', () => {
  const raw = { 'tool-number': 7, speed: 900, retract: 25, top: -5 };

  it('goes home before the change, then over the first place, then down with the length', () => {
    expect(makeBlock('tool-section', { ...raw, at: '10,-2.5', offset: 'G56' }).lines).toEqual([
      'G91 G28 Z0.',
      'G90',
      'T7 M6',
      'S900 M3',
      'G0 G56 X10. Y-2.5',
      'G43 Z20. H7',
      'M8',
    ]);
  });

  it('stops coolant and spindle of the tool before it, and keeps its work offset', () => {
    const program = new GrowingProgram(under('iso')).add('start', { offset: 'G57' }).add('tool-section', raw);
    const { lines } = makeBlock('tool-section', { ...raw, 'tool-number': 8 }, program.here());
    expect(lines?.slice(0, 2)).toEqual(['M9', 'M5']);
    expect(lines).toContain('G0 G57 X0. Y0.');
  });

  it('takes register, hand and description from the tool table', () => {
    const tools = [{ number: 7, kind: 'end-mill', description: 'mill Ø8', lengthOffset: 57, hand: 'left' }] as const;
    const { lines } = makeBlock('tool-section', raw, contextUnder(PROFILES.iso, 'mm', { tools }));
    expect(lines).toEqual(expect.arrayContaining(['( MILL 8 )', 'S900 M4', 'G43 Z20. H57']));
  });

  it('finds the speed by diameter and cutting speed: n = 1000·Vc/(π·D)', () => {
    const { lines } = makeBlock('tool-section', { 'tool-number': 7, tool: 10, 'cutting-speed': 100 });
    expect(lines).toContain('S3183 M3');
  });

  it('states plane and feed mode where others are on', () => {
    const context = contextUnder(PROFILES.iso, 'mm');
    const left = { ...context, entry: { ...context.entry, plane: 18, feedMode: 95 } };
    expect(makeBlock('tool-section', raw, left).lines).toContain('G0 G17 G94 X0. Y0.');
  });

  it('calls the tool in a block of its own where the control changes to the one called before', () => {
    const profile = { ...PROFILES.iso, toolChange: 'called-before' } as const;
    const { lines } = makeBlock('tool-section', raw, contextUnder(profile, 'mm'));
    expect(lines?.slice(2, 4)).toEqual(['T7', 'M6']);
  });

  it.each([
    [{}, 'tool-number'],
    [{ 'tool-number': 1 }, 'speed'],
    [{ ...raw, at: '0,0;5,5' }, 'at'],
    [{ ...raw, home: 'machine' }, 'home'],
    [{ ...raw, 'tool-number': 10000 }, 'tool-number'],
  ] as const)('refuses %j', (values, parameter) => {
    const { lines, problems } = makeBlock('tool-section', values);
    expect(lines).toBeUndefined();
    expect(problems.map((problem) => problem.parameter)).toEqual([parameter]);
  });

  it('refuses a speed just over the machine’s and takes it just at it', () => {
    const machine = { axes: {}, workOffsets: {}, topSpeed: 900 };
    const context = contextUnder(PROFILES.iso, 'mm', { machine });
    expect(makeBlock('tool-section', raw, context).lines).toBeDefined();
    expect(makeBlock('tool-section', { ...raw, speed: 901 }, context).problems[0].message).toContain('900 rev/min');
  });
});

describe('end', () => {
  it('switches off, goes home with Z first and alone, and ends', () => {
    expect(makeBlock('end', { table: 'yes', 'tape-mark': 'yes' }).lines).toEqual([
      'M9',
      'M5',
      'G91 G28 Z0.',
      'G91 G28 Y0.',
      'G90',
      'M30',
      '%',
    ]);
  });

  it('cannot stand behind the end, nor in radius compensation', () => {
    const ended = new GrowingProgram(under('iso')).add('start', {}).add('end', {});
    expect(makeBlock('end', {}, ended.here()).problems[0].message).toContain('ended by M30');
    ended.lines.splice(0, ended.lines.length, 'G21 G17 G90 G54', 'T1 M6', 'S100 M3', 'G41 D1 G1 X10. F100.');
    expect(makeBlock('end', {}, ended.here()).problems[0].message).toContain('G41');
  });
});

describe('subprogram', () => {
  const program = (profile: string) =>
    new GrowingProgram(under(profile)).add('start', {}).add('tool-section', { 'tool-number': 1, speed: 1000 });

  it.each(['iso', 'iso-macro'])('is called before the end and written behind it under %s', (profile) => {
    const whole = program(profile).add('subprogram', { repeats: 3 }).add('end', {});
    const call = whole.lines.find((line) => line.startsWith('M98'));
    expect(call).toBe(profile === 'iso' ? 'M98 P1001 L3' : 'M98 P0031001');
    whole.add('subprogram', { title: 'one row' });
    expect(whole.lines.slice(-4)).toEqual(['O1001', '( ONE ROW )', 'G90', 'M99']);
    expect(whole.findings()).toEqual([]);
    whole.lines.splice(-1, 0, 'G91', 'G1 X5. F100.', 'G90');
    const { position } = whole.run().stateBefore(whole.lines.indexOf('M9'));
    expect(position[0]).toBe(15);
  });

  it('has a number of its own with each call, and is written for the first call that waits', () => {
    const whole = program('iso-macro').add('subprogram', { repeats: 3 }).add('subprogram', {}).add('end', {});
    expect(whole.lines.filter((line) => line.startsWith('M98'))).toEqual(['M98 P0031001', 'M98 P1002']);
    whole.add('subprogram', { title: 'first' }).add('subprogram', { title: 'second' });
    const heads = whole.lines.filter((line) => line.startsWith('O'));
    expect(heads).toEqual(['O1000', 'O1001', 'O1002']);
    expect(whole.findings()).toEqual([]);
  });

  it('is written behind another subprogram too, and not called there', () => {
    const whole = program('iso').add('subprogram', {}).add('end', {}).add('subprogram', {});
    whole.lines.push('', '( SECOND )');
    expect(makeBlock('subprogram', {}, whole.here()).lines).toEqual(['O1002', 'G90', 'M99']);
  });

  it('has a word of caution where the program has not ended', () => {
    const here = program('iso').here();
    expect(makeBlock('subprogram', { part: 'program' }, here).words.map(({ parameter }) => parameter)).toEqual([
      'part',
    ]);
    expect(makeBlock('subprogram', { part: 'program' }).words).toEqual([]);
    expect(makeBlock('subprogram', {}, here).words).toEqual([]);
  });

  it('is refused where the control has none', () => {
    const { lines, problems } = makeBlock('subprogram', {}, program('rs274ngc').here());
    expect(lines).toBeUndefined();
    expect(problems[0].message).toContain('rs274ngc');
  });
});
