// Radius compensation in whole programs. Places are worked out by hand: parallel lines, concentric arcs.
import { describe, expect, it } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import { type Configuration, DEFAULT_CONFIGURATION, type ToolRow } from './configuration.ts';
import { Mode } from './modes.ts';
import { MoveFlag, MoveKind, type MoveTable } from './moves.ts';
import { PROFILES } from './profile.ts';

const TABLE: readonly ToolRow[] = [
  { number: 1, kind: 'end-mill', diameter: 4 },
  { number: 2, kind: 'end-mill', diameter: 6, radiusOffset: 22 },
];
const WITH_TABLE: Partial<Configuration> = { tools: TABLE };

const NAMES = ['rapid', 'line', 'arc', 'wait', 'renamed'];
const short = (value: number): number | null => (Number.isNaN(value) ? null : Math.round(value * 1e4) / 1e4 + 0);

const wordsOf = (moves: MoveTable, firstLine = 0): string[] =>
  Array.from({ length: moves.count }, (_, i) => {
    const place = [...moves.ends.subarray(i * 3, i * 3 + 3)].map(short).join(' ');
    return `${moves.lines[i] + firstLine + 1} ${NAMES[moves.kinds[i] & MoveFlag.kindMask]} ${place}`;
  });

const run = (program: string, changes: Partial<Configuration> = WITH_TABLE): Analysis => {
  const analysis = new Analysis(program, { ...DEFAULT_CONFIGURATION, ...changes });
  analysis.run();
  return analysis;
};

/** The path of the centre, with lines from 1. */
const centre = (program: string, changes?: Partial<Configuration>): string[] =>
  [...run(program, changes).passages()].flatMap(({ segment, firstLine }) => wordsOf(segment.moves, firstLine));

const contour = (program: string): string[] =>
  [...run(program).passages()].flatMap(({ segment, firstLine }) =>
    segment.contour === undefined ? [] : wordsOf(segment.contour, firstLine),
  );

const SQUARE = 'G0 X0 Y0 Z0\nG1 G41 D1 X10 F100\nY20\nX30\nG40 X40\nM30';

describe('the path', () => {
  it('is the centre’s, the position the programmed one, and the contour is kept', () => {
    expect(centre(SQUARE)).toEqual([
      '1 rapid 0 0 0',
      '2 line 8 0 0',
      '3 line 8 20 0',
      '3 arc 10 22 0',
      '4 line 30 22 0',
      '5 line 40 20 0',
    ]);
    expect([...run(SQUARE).stateAfter(2).position.subarray(0, 3)]).toEqual([10, 20, 0]);
    expect(contour(SQUARE)).toEqual([
      '2 renamed 0 0 0',
      '2 line 10 0 0',
      '3 line 10 20 0',
      '4 line 30 20 0',
      '5 line 40 20 0',
    ]);
  });

  it('keeps no contour without compensation', () => {
    expect(contour('G0 X0 Y0 Z0\nG1 X10 F100\nM30')).toEqual([]);
  });

  it('goes round outside corners as the profile says', () => {
    const profile = { ...PROFILES.iso, outsideCorner: 'extended-lines' } as const;
    expect(centre(SQUARE, { ...WITH_TABLE, profile })).toEqual([
      '1 rapid 0 0 0',
      '2 line 8 0 0',
      '3 line 8 22 0',
      '4 line 30 22 0',
      '5 line 40 20 0',
    ]);
  });

  it('on the right with G42', () => {
    expect(centre('G0 X0 Y0 Z0\nG1 G42 D1 X10 F100\nY20\nG40 Y30').slice(1)).toEqual([
      '2 line 12 0 0',
      '3 line 12 20 0',
      '4 line 10 30 0',
    ]);
  });

  it('in the planes of G18 and G19: left is left seen against their normal axis', () => {
    // G18 runs from Z to X: left of a move to +X is −Z. G19 runs from Y to Z: left of a move to +Z is −Y.
    expect(centre('G18 G0 X0 Y0 Z0\nG1 G41 D1 Z10 F100\nX20\nG40 X30').slice(1)).toEqual([
      '2 line 0 0 8',
      '3 line 20 0 8',
      '4 line 30 0 10',
    ]);
    expect(centre('G19 G0 X0 Y0 Z0\nG1 G41 D1 Y10 F100\nZ20\nG40 Z30').slice(1)).toEqual([
      '2 line 0 8 0',
      '3 line 0 8 20',
      '4 line 0 10 30',
    ]);
  });

  it('changes sides in a mirror', () => {
    const program = 'G0 X0 Y0 Z0\nG51.1 X0\nG1 G41 D1 X10 F100\nY20\nG40 Y30';
    expect(centre(program).slice(1)).toEqual(['3 line -8 0 0', '4 line -8 20 0', '5 line -10 30 0']);
  });

  it('a circle and a helix', () => {
    const program = 'G0 X0 Y0 Z0\nG1 G41 D1 X10 F100\nG3 I-10\nG3 I-10 Z-2\nG1 G40 X0';
    expect(centre(program).slice(1)).toEqual(['2 line 8 0 0', '3 arc 8 0 0', '4 arc 8 0 -2', '5 line 0 0 -2']);
  });

  it('looks past heights, waits and blocks without motion', () => {
    const program = 'G0 X0 Y0 Z0\nG1 G41 D1 X10 F100\nZ-5\nG4 P1.\n(REMARK)\nM8\nY20\nG40 X0';
    expect(centre(program).slice(1)).toEqual([
      '2 line 8 0 0',
      '3 line 8 0 -5',
      '4 wait 8 0 -5',
      '7 line 8 20 -5',
      '8 line 0 20 -5',
    ]);
  });

  it('G40 alone leaves the cutter aside until the next move in the plane', () => {
    const program = 'G0 X0 Y0 Z0\nG1 G41 D1 X10 F100\nY20\nG40\nG0 Z5\nX0 Y0';
    expect(centre(program).slice(2)).toEqual(['3 line 8 20 0', '5 rapid 8 20 5', '6 rapid 0 0 5']);
  });

  it('leads in at rapid where the program does', () => {
    const program = 'G0 X0 Y0 Z0\nG0 G41 D1 X10\nG1 Y20 F100\nG40 X0';
    expect(centre(program)[1]).toBe('2 rapid 8 0 0');
  });

  it('turning and other axes go along', () => {
    const analysis = run('G0 X0 Y0 Z0\nG1 G41 D1 X10 F100\nY20 A90.\nG40 X0');
    const [{ moves }] = analysis.chunks[0].segments;
    expect(wordsOf(moves)[2]).toBe('3 line 8 20 0');
    expect(moves.otherMoves).toEqual([2]);
    expect(moves.others[0]).toBe(90);
  });

  it('goes home and drills uncompensated', () => {
    const program = 'G0 X0 Y0 Z0\nG1 G41 D1 X10 F100\nY20\nG53 G0 X50 Y50\nG1 X60\nG28 Z0\nM30';
    expect(centre(program).slice(2, 5)).toEqual(['3 line 8 20 0', '4 rapid   0', '5 line 60  0']);
    const drilling = 'G0 X0 Y0 Z5\nG1 G41 D1 X10 F100\nY20\nG81 X20 Z-5 R2\nG80\nG40\nM30';
    expect(centre(drilling)).toContain('4 line 20 20 -5');
  });

  it('a shift of the zero takes the cutter along', () => {
    const program = 'G0 X0 Y0 Z0\nG1 G41 D1 X10 F100\nY20\nG92 Y0\nY10\nG40 X0';
    expect(centre(program)).toContain('3 line 8 20 0');
    expect([...run(program).stateAfter(5).position.subarray(0, 2)]).toEqual([0, 30]);
  });

  it('what waits at the program’s end ends square', () => {
    expect(centre('G0 X0 Y0 Z0\nG1 G41 D1 X10 F100\nY20\nM30').slice(1)).toEqual(['2 line 8 0 0', '3 line 8 20 0']);
  });

  it('reaches over the border of chunks', () => {
    const between = '(REMARK)\n'.repeat(1200);
    const program = `G0 X0 Y0 Z0\nG1 G41 D1 X10 F100\n${between}Y20\nG40 X0\nM30`;
    const analysis = run(program);
    const lines = centre(program).map((move) => Number.parseInt(move, 10));
    expect(analysis.chunks.length).toBeGreaterThan(2);
    expect(lines).toEqual([1, 2, 1203, 1204]);
  });
});

describe('with jumps, loops and calls', () => {
  /** Moves without their lines. */
  const bare = (program: string): string[] => centre(program).map((move) => move.replace(/^-?\d+ /, ''));
  const start = 'O1\nG0 X0 Y0 Z0\nG1 G41 D1 X10 F100\n';
  const end = 'G40 X60\nM30\n';

  it('a contour in a subprogram is that of the unrolled program', () => {
    const contour = 'Y20\nG2 X20 Y30 I10\nG1 X40\nY10\n';
    expect(bare(`${start}M98 P100\n${end}O100\n${contour}M99`)).toEqual(bare(start + contour + end));
    const twice = `${start}M98 P100 L2\n${end}O100\nG91\nY20\nX10\nG90\nM99`;
    expect(bare(twice)).toEqual(bare(`${start}G91\nY20\nX10\nG90\nG91\nY20\nX10\nG90\n${end}`));
  });

  it('a contour in a loop is that of the unrolled program', () => {
    const loop = `${start}#1=0\nWHILE [#1 LT 5] DO1\n#1=[#1+1]\nX[#1*10]\nY[#1*10]\nEND1\n${end}`;
    const unrolled = [1, 2, 3, 4, 5].map((i) => `X${i * 10}\nY${i * 10}\n`).join('');
    expect(bare(loop)).toEqual(bare(start + unrolled + end));
  });

  it('a move that waits over a jump keeps its line', () => {
    const program = `${start}GOTO 10\nX500\nX600\nN10 Y20\n${end}`;
    expect(centre(program).map((move) => Number.parseInt(move, 10))).toEqual([2, 3, 7, 8]);
  });
});

describe('the cutter’s radius', () => {
  const start = 'G21 G0 X0 Y0 Z0\nG1 G41';
  const end = ' X10 F100\nY20\nG40 X0';
  const at = (words: string, changes?: Partial<Configuration>, before = ''): string =>
    centre(`${before}${start}${words}${end}`, changes).filter((move) => move.includes('line'))[0];

  it('is that of the row D belongs to', () => {
    expect(at(' D1')).toBe('2 line 8 0 0');
    expect(at(' D22')).toBe('2 line 7 0 0');
  });

  it('is that of the tool in the spindle without a row', () => {
    expect(at(' D99', WITH_TABLE, 'T1 M6\n')).toBe('3 line 8 0 0');
    expect(at('', WITH_TABLE, 'T2 M6\n')).toBe('3 line 7 0 0');
  });

  it('is the remark’s without a table', () => {
    expect(at(' D3', {}, 'T3 M6 (END MILL D10)\n')).toBe('3 line 5 0 0');
  });

  it('is what G10 wrote, as radius or diameter by profile', () => {
    expect(at(' D1', WITH_TABLE, 'G10 L12 P1 R3.\n')).toBe('3 line 7 0 0');
    const profile = { ...PROFILES.iso, offsetRegister: 'diameter' } as const;
    expect(at(' D1', { ...WITH_TABLE, profile }, 'G10 L12 P1 R3.\n')).toBe('3 line 8.5 0 0');
  });

  it('counts the wear that G10 wrote', () => {
    expect(at(' D1', WITH_TABLE, 'G10 L13 P1 R0.1\n')).toBe('3 line 7.9 0 0');
  });

  it('unknown, or D0: the programmed path', () => {
    expect(at(' D5', {})).toBe('2 line 10 0 0');
    expect(at(' D0')).toBe('2 line 10 0 0');
    expect(contour(`${start} D0${end}`)).toEqual([]);
  });

  it('below nothing is the other side', () => {
    expect(at(' D1', {}, 'G10 L12 P1 R-2.\n')).toBe('3 line 12 0 0');
  });
});

describe('modes', () => {
  it('a move keeps those of its own block although it is given out later', () => {
    const analysis = run('G0 X0 Y0 Z0\nG1 G41 D1 X10 F100\nY20 F200\nX30 F300\nG40 X40');
    const [{ moves }] = analysis.chunks[0].segments;
    const feeds = Array.from(moves.modes.subarray(0, moves.count), (id) => analysis.modePool.at(id, Mode.feed));
    expect(feeds).toEqual([-1, 100, 200, 200, 300, 300]);
    expect(moves.kinds[3] & MoveFlag.kindMask).toBe(MoveKind.arc);
  });
});
