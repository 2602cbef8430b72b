/** What a block does in which order, groups of codes, and where programs begin and end. */
import { describe, expect, it } from 'vitest';
import { endMode, endPoint, executed, findingCodes, path } from '../../../../tests/harness/path.ts';
import { Mode } from './modes.ts';

/** A mode as it is during the last move. */
const during = (program: string, mode: (typeof Mode)[keyof typeof Mode], profile?: Parameters<typeof executed>[1]) => {
  const analysis = executed(program, profile);
  const { moves } = analysis.chunks[0].segments[0];
  return analysis.modePool.at(moves.modes[moves.count - 1], mode);
};

const MIST_AND_FLOOD = 3;

describe('order within a block', () => {
  it.each(['iso', 'rs274ngc'])('%s: spindle and coolant start with the motion', (profile) => {
    expect(during('G0 X1\nG1 X2 F100 S500 M3 M8', Mode.spindle, profile)).toBe(3);
    expect(during('G0 X1\nG1 X2 F100 S500 M4 M7 M8', Mode.coolant, profile)).toBe(MIST_AND_FLOOD);
  });

  it.each([
    ['M5', Mode.spindle, 3, 5],
    ['M19', Mode.spindle, 3, 19],
    ['M9', Mode.coolant, 2, 0],
  ])('%s acts behind the motion in iso, before it in the report', (code, mode, running, stopped) => {
    const program = `S500 M3 M8 F100\nG0 X1\nG1 X2 ${code}`;
    expect(during(program, mode, 'iso')).toBe(running);
    expect(endMode(program, mode, 'iso')).toBe(stopped);
    const known = code === 'M19' ? { base: 'iso', order: 'report' as const } : 'rs274ngc';
    expect(during(program, mode, known)).toBe(stopped);
  });

  it.each(['iso', 'rs274ngc'])('%s: F, S, plane, units, offset and distance come before the motion', (profile) => {
    const program = 'G0 X1 Y1 Z1\nX10 Z5 I4 K0 G2 G91 G18 F50 S7';
    expect(path(program, profile).at(-1)).toEqual(['arc', 11, 1, 6, 5, 1, 1, expect.any(Number)]);
    expect(during('G0 X1 Y1\nX10 F50 S7 G1', Mode.feed, profile)).toBe(50);
    expect(during('G0 X1 Y1\nX10 F50 S7 G1', Mode.speed, profile)).toBe(7);
    expect(during('G0 X1 Y1\nX10 G55', Mode.offset, profile)).toBe(550);
  });

  it.each(['iso', 'rs274ngc'])('%s: a wait comes before the motion of its block, stops behind it', (profile) => {
    expect(path('G0 X1 F100\nG1 X2 G4 P1.5', profile).slice(1)).toEqual([
      ['dwell', 1.5],
      ['line', 2, null, null],
    ]);
    expect(endPoint('G0 X1\nG0 X2 M30', profile)).toEqual([2, null, null]);
    expect(endMode('G0 X1\nG0 X2 M30', Mode.ended, profile)).toBe(1);
  });

  it.each(['iso', 'rs274ngc'])('%s: a cut behind M5 is told', (profile) => {
    const program = 'S500 M3 F100\nG0 X0 Y0 Z0\nG1 X1\nM5\nG1 X2\nM30';
    expect(findingCodes(program, profile, 'spindle')).toEqual(['spindle-stopped-in-cut']);
  });

  it('X may be the wait itself', () => {
    expect(path('G0 X1\nG4 X2.')).toEqual([
      ['rapid', 1, null, null],
      ['dwell', 2],
    ]);
  });

  it('M6 T3 changes to tool 3, unless the profile takes the tool called before', () => {
    expect(endMode('T1 M6\nM6 T3', Mode.tool)).toBe(3);
    const before = { base: 'iso', toolChange: 'called-before' as const };
    expect(endMode('T1\nM6 T3', Mode.tool, before)).toBe(1);
    expect(endMode('T1\nM6 T3\nM6', Mode.tool, before)).toBe(3);
    expect(endMode('T4\nM6', Mode.tool)).toBe(4);
    expect(findingCodes('M6 T3', before, 'tool-change')).toEqual(['tool-change-without-tool']);
  });

  it('a tool change stops the spindle, M3 in its block starts it again', () => {
    expect(endMode('S500 M3\nT1 M6', Mode.spindle)).toBe(0);
    expect(endMode('T1 M6 S500 M3', Mode.spindle)).toBe(3);
  });

  it('the position of words in the block does not matter', () => {
    const program = 'M3 S500\nG0 X0 Y0\n';
    expect(path(`${program}G1 G91 X5 F20`)).toEqual(path(`${program}F20 X5 G91 G1`));
  });
});

describe('groups', () => {
  it('one code of each group may stand in a block', () => {
    expect(findingCodes('G0 G17 G40 G49 G80 G90 G94 G54\nG0 G91 G28 Z0\nM7 M8\nM30')).toEqual([]);
  });

  it.each([
    'G0 G1 X1',
    'G17 G18',
    'G90 G91',
    'G90.1 G91.1',
    'G94 G95',
    'G96 G97',
    'G20 G21',
    'G70 G20',
    'G40 G41',
    'G43 G49',
    'G98 G99',
    'G54 G55',
    'G54 G54.1 P1',
    'G61 G64',
    'G50 G51 P2',
    'G68 G69',
    'G15 G16',
    'G81 G82',
    'M0 M30',
    'M3 M5',
    'M8 M9',
    'M48 M49',
    'M98 M99',
  ])('%s are two of one group', (words) => {
    expect(findingCodes(words, 'iso', 'modal')).toEqual(['modal-conflict']);
  });

  it('the same code twice is one', () => {
    expect(findingCodes('G90 G90', 'iso', 'modal')).toEqual([]);
  });

  it('of two the last holds', () => {
    expect(endMode('G90 G91', Mode.distance)).toBe(91);
    expect(endMode('G91 G90', Mode.distance)).toBe(90);
  });

  it('a cycle is a motion in the report, a group of its own elsewhere', () => {
    expect(findingCodes('G0 G80', 'iso', 'modal')).toEqual([]);
    expect(findingCodes('G0 G80', 'rs274ngc', 'modal')).toEqual(['modal-conflict']);
  });

  it.each(['33', '73', '74', '76', '90.1', '95', '96', '97', '29', '65'])('the report has no G%s', (code) => {
    expect(findingCodes(`G${code}`, 'rs274ngc', 'unknown')).toEqual(['unknown-code']);
    expect(findingCodes(`G${code}`, 'iso', 'unknown')).toEqual([]);
  });

  it.each([
    '0',
    '1',
    '2',
    '3',
    '4',
    '10',
    '17',
    '18',
    '19',
    '20',
    '21',
    '28',
    '30',
    '38.2',
    '40',
    '41',
    '42',
    '43',
    '49',
    '53',
    '54',
    '59',
    '59.1',
    '59.3',
    '61',
    '61.1',
    '64',
    '80',
    '81',
    '82',
    '83',
    '84',
    '85',
    '86',
    '87',
    '88',
    '89',
    '90',
    '91',
    '92',
    '92.1',
    '92.2',
    '92.3',
    '93',
    '94',
    '98',
    '99',
  ])('the report has G%s', (code) => {
    // Source: NIST IR 6556, table of G codes (from memory).
    expect(findingCodes(`G${code}`, 'rs274ngc', 'unknown')).toEqual([]);
  });

  it('G70 and G71, G50.1 and G51.1 by profile', () => {
    expect(findingCodes('G70\nG51.1 X0', 'iso', 'unknown')).toEqual([]);
    expect(findingCodes('G70\nG51.1 X0', { base: 'iso', units7071: false, mirrorCodes: false }, 'unknown')).toEqual([
      'unknown-code',
      'unknown-code',
    ]);
  });

  it('codes of the shop’s own control are known', () => {
    expect(findingCodes('G777 M777', { base: 'iso', extraG: [7770], extraM: [777] }, 'unknown')).toEqual([]);
    expect(findingCodes('G777 M777', 'iso', 'unknown')).toEqual(['unknown-code', 'unknown-code']);
  });
});

describe('programs', () => {
  it('nothing behind M30 moves', () => {
    expect(endPoint('G0 X1\nM30\nG0 X2')).toEqual([1, null, null]);
    expect(endPoint('G0 X1\nM2\nG0 X2')).toEqual([1, null, null]);
    expect(endPoint('G0 X1\nM99\nG0 X2')).toEqual([1, null, null]);
    expect(endPoint('G0 X1\nM17\nG0 X2')).toEqual([1, null, null]);
  });

  it('M0 and M1 stop and go on', () => {
    expect(endPoint('G0 X1\nM0\nM1\nX2')).toEqual([2, null, null]);
  });

  it('an O number behind the end begins anew', () => {
    const program = 'O1\nG91 G20 G0 X1\nG1 F5\nM30\nO2\nG0 X7 Y7\nM30';
    expect(path(program).at(-1)).toEqual(['rapid', 7, 7, null]);
    expect(endMode(program, Mode.distance)).toBe(90);
    expect(endMode(program, Mode.feed)).toBe(-1);
    expect(endPoint('O1\nG0 Z5\nM30\nO2\nG0 X7')).toEqual([7, null, null]);
  });

  it('an O number before the end does not', () => {
    expect(endPoint('O1\nG0 X1 Y1\nO2\nX3')).toEqual([3, 1, null]);
  });

  it('tape marks do nothing', () => {
    expect(endPoint('%\nO1\nG0 X1\nM30\n%')).toEqual([1, null, null]);
    expect(findingCodes('% PART-1\nO1\nG0 X1\nM30\n%')).toEqual([]);
  });

  it('blocks with a slash are executed or skipped by setting', () => {
    const program = 'G0 X1\n/X2\n /3 X5 Y7 M30\n';
    expect(path(program, 'iso').length).toBe(3);
    expect(path(program, 'iso', { blockDelete: 'skip' }).length).toBe(1);
    expect(path('G0 X1\n// X2\nX3', 'iso', { blockDelete: 'skip' }).length).toBe(2);
    expect(path('#1=4\n/#1=5\nG0 X#1', 'iso', { blockDelete: 'skip' })).toEqual([['rapid', 4, null, null]]);
  });

  it('a remark never changes the meaning', () => {
    const program = 'G0 X1 Y1\nG1 X2 F100\nM30';
    expect(path('(G91 X9)\nG0 X1 (Y5) Y1 ; Z9\n// M30\nG1 (F5) X2 F100\nM30')).toEqual(path(program));
  });
});
