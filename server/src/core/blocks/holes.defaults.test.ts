import { describe, expect, it } from 'vitest';
import { contextUnder, makeBlock } from '../../../../tests/harness/blocks.ts';
import { Analysis } from '../checks/analysis.ts';
import { type Configuration, DEFAULT_CONFIGURATION, type ToolRow } from '../machine/configuration.ts';
import { DEFAULT_PROFILE } from '../machine/profile.ts';
import { type BlockContext, contextAt } from './context.ts';
import { type GenerationResult, generateBlock } from './generate.ts';
import { holes } from './holes.ts';
import { readMarkers } from './markers.ts';
import { readValues } from './readValues.ts';
import { drillingFor, tapping } from './tapping.ts';

type Raw = Readonly<Record<string, string | number>>;

const make = (raw: Raw, more: Partial<Configuration> = {}): GenerationResult =>
  makeBlock('holes', raw, contextUnder(DEFAULT_PROFILE, 'mm', more));
const fact = ({ facts }: GenerationResult, name: string): string =>
  facts.find((one) => one.name === name)?.text ?? expect.fail(`no fact ${name}`);
/** The blocks that begin a cycle. */
const cycles = ({ lines, problems }: GenerationResult): string[] =>
  (lines ?? expect.fail(problems.map(({ message }) => message).join(' | '))).filter((line) => /G9[89] G\d/.test(line));

describe('what is left out', () => {
  const tapped = {
    operations: 'spot,drill,tap',
    'spot.tool-number': 1,
    'drill.tool-number': 2,
    'tap.tool-number': 3,
    'tap.thread': 'M8',
    'tap.holder': 'synchronised',
    material: 'steel',
  };

  it('comes from the thread: spot, drill and its depth', () => {
    const block = make({ ...tapped, 'tap.depth': 16 });
    // 16 + 3 × 1.25 + 1.5 × 1.25 = 21.625, to a tenth above; 6.8 has a point of 2.043.
    expect(fact(block, 'drill.tip')).toBe('23.743 mm');
    expect(block.lines?.join('\n')).toContain('DRILL D6.8 118DEG');
    // 8 × 1.05.
    expect(fact(block, 'spot.diameter')).toBe('8.4 mm');
    expect(fact(block, 'spot.depth')).toBe('2.425 mm');
    expect(fact(block, 'tap.engagement')).toBe('74 %');
    const wider = make({ ...tapped, 'tap.depth': 16, 'drill.diameter': 7 });
    expect(fact(wider, 'tap.share')).toBe('62 %');
  });

  it('a through hole is drilled, threaded and said to be so in every remark', () => {
    const block = make({ ...tapped, 'drill.through': 'yes', 'drill.depth': 12 });
    // Thickness, point and a tenth of the drill; the tap's lead comes out below.
    expect(fact(block, 'drill.tip')).toBe('14.723 mm');
    expect(cycles(block)[2]).toContain('Z-15.75');
    expect(block.lines?.filter((line) => / M6 /.test(line) && line.includes('THROUGH'))).toHaveLength(2);
    expect(block.cautions.join('\n')).toContain('HOLES GO THROUGH');
  });

  it('a tap that goes through makes the drill go through, and a blind tap in a through hole stays blind', () => {
    const both = make({ ...tapped, 'tap.depth': 12, 'tap.hole': 'through' });
    expect(fact(both, 'drill.tip')).toBe('14.723 mm');
    const blind = make({ ...tapped, 'drill.through': 'yes', 'drill.depth': 30, 'tap.depth': 12, 'tap.hole': 'blind' });
    expect(cycles(blind)[2]).toContain('Z-15.75');
    expect(blind.words).toEqual([]);
  });

  it('comes from the reamer: drill and depth', () => {
    const block = make({
      operations: 'drill,ream',
      'ream.diameter': 10,
      'ream.depth': 20,
      'drill.tool-number': 1,
      'ream.tool-number': 2,
      material: 'aluminium',
    });
    // 0.2 less, and 1 mm deeper than the reamer goes: 21 + 9.8/(2·tan 59°).
    expect(fact(block, 'drill.tip')).toBe('23.944 mm');
    expect(fact(block, 'ream.stock')).toBe('0.2 mm');
  });

  it('spot drills are as blunt as the drill', () => {
    const spot = (angle: number): string =>
      fact(
        make({
          operations: 'spot,drill',
          'drill.tool-number': 2,
          'drill.diameter': 10,
          'drill.depth': 20,
          'drill.angle': angle,
          material: 'steel',
        }),
        'spot.depth',
      );
    // 10.5/(2·tan 60°) and 10.5/(2·tan 71°).
    expect(spot(120)).toBe('3.031 mm');
    expect(spot(121)).toBe('1.808 mm');
  });

  it.each([
    [30, 'G81 ', ''],
    [30.1, 'G73 ', 'Q10.'],
    [79.9, 'G73 ', 'Q10.'],
    [80, 'G83 ', 'Q5.'],
  ])('a hole of 10 mm that is %f deep is drilled by %s', (depth, code, peck) => {
    const [cycle] = cycles(make({ 'drill.diameter': 10, 'drill.depth': depth, material: 'steel' }));
    expect(cycle).toContain(code);
    expect(cycle.match(/Q\S+/)?.[0] ?? '').toBe(peck);
  });

  it('the places are listed, and no more than two dozen', () => {
    const row = { 'drill.diameter': 3, 'drill.depth': 5, material: 'brass', pattern: 'row', spacing: 5 };
    expect(fact(make({ ...row, count: 3 }), 'places')).toBe('X0. Y0.; X5. Y0.; X10. Y0.');
    expect(fact(make({ ...row, count: 30 }), 'places')).toMatch(/X115\. Y0\.; and 6 more$/);
  });
});

const TABLE: readonly ToolRow[] = [
  { number: 2, kind: 'drill', diameter: 6.8, pointAngle: 135, cuttingMaterial: 'carbide' },
  {
    number: 3,
    kind: 'tap',
    thread: 'M8',
    leadTurns: 2,
    holder: { kind: 'reversing', ratio: 1.75, selfFeed: 2, freeUp: 4 },
  },
  { number: 4, kind: 'countersink', pointAngle: 82, tip: 1 },
];

const drilledAndTapped = {
  operations: 'drill,countersink,tap',
  'drill.tool-number': 2,
  'countersink.tool-number': 4,
  'countersink.diameter': 9,
  'tap.tool-number': 3,
  'tap.depth': 14,
  pattern: 'circle',
  count: 6,
  radius: 25,
  material: 'aluminium',
};

describe('the tool table', () => {
  it('gives diameter, angle, tip, thread and holder of each operation by its tool number', () => {
    const { raw, lines = [] } = make(drilledAndTapped, { tools: TABLE });
    expect(raw).toMatchObject({
      'drill.diameter': '6.8',
      'drill.angle': '135',
      'countersink.angle': '82',
      'countersink.tip': '1',
      'tap.thread': 'M8',
      'tap.lead-turns': '2',
      'tap.holder': 'reversing',
      'tap.ratio': '1.75',
      'tap.self-feed': '2',
      'tap.free-up': '4',
    });
    expect(lines.join('\n')).not.toMatch(/G84|G74/);
    expect(lines.join('\n')).toContain('STOP ARM SET');
  });

  it('is in the marker: the block comes out the same from it, without the table', () => {
    const configuration = { ...DEFAULT_CONFIGURATION, tools: TABLE };
    const first = make(drilledAndTapped, { tools: TABLE });
    const lines = first.lines ?? expect.fail('no block');
    const { blocks } = readMarkers(lines.map((text, line) => ({ line, text })));
    expect(blocks).toHaveLength(1);
    const again = generateBlock(holes, blocks[0].raw, contextUnder(DEFAULT_PROFILE, 'mm', configuration), {
      withoutDefaults: true,
    });
    expect(again.lines).toEqual(lines);
  });
});

/** A block at the end of a program. */
const behind = (
  program: readonly string[],
  raw: Record<string, string>,
  tools: readonly ToolRow[] = [],
): GenerationResult => {
  const configuration: Configuration = { ...DEFAULT_CONFIGURATION, tools };
  const analysis = new Analysis([...program, ''].join('\n'), configuration);
  analysis.run();
  const context: BlockContext = contextAt(analysis, program.length, configuration);
  return generateBlock(holes, raw, context);
};

describe('the tool in the spindle', () => {
  const program = (remark: string): string[] => [
    'G21 G17 G90 G94 G40 G80',
    'G54',
    `T5 M6 ( ${remark} )`,
    'S1500 M3',
    'G0 X0. Y0.',
    'G43 Z50. H5',
  ];

  it('gives the first operation its diameter and the speed in force', () => {
    const block = behind(program('DRILL D7.'), { 'drill.depth': '20', feed: '150' });
    expect(block.raw).toMatchObject({ 'drill.diameter': '7', speed: '1500' });
    expect(block.lines?.join('\n')).toContain('S1500 M3');
    expect(block.words).toEqual([]);
  });

  it('says nothing of operations that call a tool of their own', () => {
    const block = behind(program('DRILL D7.'), { 'drill.tool-number': '9', 'drill.depth': '20', feed: '150' });
    expect(block.raw.speed).toBeUndefined();
    expect(block.raw['drill.diameter']).toBeUndefined();
    expect(block.problems.map(({ parameter }) => parameter)).toContain('drill.diameter');
  });

  it('is told of where it is another tool', () => {
    const block = behind(program('END MILL D7.'), { 'drill.diameter': '7', 'drill.depth': '20', feed: '150' });
    expect(block.words.map(({ message }) => message)).toEqual([
      'The tool in the spindle is an end mill by its remark, and this is to drill. Check the tool number.',
    ]);
  });
});

describe('with other blocks and units', () => {
  it('drills what a tapping block asks for', () => {
    const raw = {
      thread: 'M10',
      depth: '20',
      speed: '300',
      at: '0,0;30,0',
      hole: 'through',
      holder: 'synchronised',
      material: 'steel',
    };
    const context = contextUnder(DEFAULT_PROFILE);
    const drilling = drillingFor(readValues(tapping.parameters, raw, false).values, context) ?? expect.fail('none');
    const block = makeBlock('holes', drilling, context);
    expect(block.problems).toEqual([]);
    expect(cycles(block)[0]).toContain('G98 G81 X0. Y0. Z-23.404');
  });

  it('takes inches where the program counts in them, places and spacings too', () => {
    const context = contextUnder(DEFAULT_PROFILE, 'inch');
    const typed = {
      pattern: 'grid',
      at: '1,2',
      count: '2,2',
      spacing: '0.5,0.75',
      'drill.diameter': '0.25',
      'drill.depth': '0.5',
      speed: '1200',
      feed: '6',
    };
    const block = generateBlock(holes, typed, context, { inProgramUnits: true });
    // 0.5 + 0.25/(2·tan 59°).
    expect(cycles(block)).toEqual(['G98 G81 X1. Y2. Z-0.5751 R0.0787 F6']);
    expect(fact(block, 'places')).toBe('X1. Y2.; X1.5 Y2.; X1.5 Y2.75; X1. Y2.75');
    expect(fact(block, 'drill.tip')).toBe('0.5751 in');
  });
});
