import { describe, expect, it } from 'vitest';
import { executed, type ProfileChoice } from '../../../../tests/harness/path.ts';
import { Analysis } from '../checks/analysis.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { PROFILES } from '../machine/profile.ts';
import { definitionAt } from './definition.ts';

/** Text of the places that the column of `|` leads to, with their lines from 1. */
const leadsTo = (marked: string, profile: ProfileChoice = 'iso'): string[] => {
  const before = marked.slice(0, marked.indexOf('|')).split('\n');
  const analysis = executed(marked.replace('|', ''), profile);
  const base = typeof profile === 'string' ? PROFILES[profile] : { ...PROFILES[profile.base], ...profile };
  const configuration = { ...DEFAULT_CONFIGURATION, profile: base };
  const found = definitionAt(analysis, configuration, before.length - 1, before[before.length - 1].length);
  return (found?.places ?? []).map(
    ({ line, column, endColumn }) => `${line + 1} ${analysis.lineText(line).slice(column, endColumn)}`,
  );
};

const HEAD = 'G17 G21 G40 G49 G80 G90 G54\nT1 M6 (END MILL D10)\nS3000 M3\n';

describe('a move leads to what it runs under', () => {
  it('on its motion word, an axis word and between its words', () => {
    const all = ['4 F200.', '3 S3000', '1 G17', '1 G54', '2 T1', '1 G90', '1 G21', '4 G1'];
    expect(leadsTo(`${HEAD}G1 X0. F200.\n|X10. Y5.\n`)).toEqual(all);
    expect(leadsTo(`${HEAD}G1 X0. F200.\nX10. |Y5.\n`)).toEqual(all);
    expect(leadsTo(`${HEAD}G1 X0. F200.\n| X10. Y5.\n`)).toEqual(all);
    expect(leadsTo(`${HEAD}G1 X0. F200.\nG|1 X10. Y5.\n`)).toEqual(all.slice(0, -1));
  });

  it('a rapid asks for no feed, a compensated move for G41', () => {
    expect(leadsTo(`${HEAD}F300.\nG0 |X10.\n`)).not.toContain('4 F300.');
    expect(leadsTo(`${HEAD}G1 G41 D1 X10. F100.\n|X30.\n`)).toContain('4 G41');
  });

  it('the last of several, and one that says again what was in force', () => {
    expect(leadsTo(`${HEAD}G1 X0. F200.\nF200. X1.\n|X2.\n`)).toContain('5 F200.');
    expect(leadsTo(`${HEAD}G1 X0. F200. (F300)\n(F100)\n|X2.\n`)).toContain('4 F200.');
    expect(leadsTo('G1 F100. |X1.\nF200.\n')).toContain('1 F100.');
  });

  it('a cycle’s hole to the block that called it', () => {
    expect(leadsTo(`${HEAD}G99 G81 X0. Z-5. R2. F80.\n|X10.\n`)).toEqual(expect.arrayContaining(['4 F80.', '4 G81']));
  });

  it('the lead of a thread is no feed', () => {
    expect(leadsTo(`${HEAD}G1 X0. F200.\nG33 Z-5. F1.5\nG1 |X2.\n`)[0]).toBe('4 F200.');
  });

  it('nothing crosses the end of a program', () => {
    expect(leadsTo(`O1\n${HEAD}G1 X0. F200.\nM30\nO2\nG1 |X5.\n`)).toEqual([]);
  });

  it('over ten thousand lines', () => {
    const many = Array.from({ length: 10_000 }, (_, i) => `X${i}.`).join('\n');
    expect(leadsTo(`${HEAD}G1 X0. F200.\n${many}\n|X1.\n`).slice(0, 2)).toEqual(['4 F200.', '3 S3000']);
  });
});

describe('one word leads to itself or to what set it', () => {
  it('words and codes that hold on', () => {
    expect(leadsTo(`${HEAD}G1 X0. F|200.\n`)).toEqual(['4 F200.']);
    expect(leadsTo(`${HEAD}G5|5\n`)).toEqual(['4 G55']);
    expect(leadsTo(`${HEAD}S|500\n`)).toEqual(['4 S500']);
  });

  it('none in remarks, on % and on empty lines', () => {
    expect(leadsTo(`${HEAD}(F1|00)\n`)).toEqual([]);
    expect(leadsTo(`|%\n${HEAD}`)).toEqual([]);
    expect(leadsTo(`${HEAD}|\nM30\n`)).toEqual([]);
  });
});

describe('through calls, jumps and loops', () => {
  const SUB = 'O20\nG1 Z-1. F50.\nX1.\nM99\n';

  it('a feed that the subprogram set holds behind the call', () => {
    expect(leadsTo(`${HEAD}F100.\nM98 P20\nG1 |X5.\nM30\n${SUB}`)[0]).toBe('9 F50.');
    expect(leadsTo(`${HEAD}M98 P20\nF100.\nM98 P20\nG1 |X5.\nM30\n${SUB}`)[0]).toBe('10 F50.');
  });

  it('inside the subprogram it comes from the first call', () => {
    const sub = 'O20\nG1 |X1.\nM99\n';
    expect(leadsTo(`${HEAD}F100.\nM98 P20\nF200.\nM98 P20\nM30\n${sub}`)[0]).toBe('4 F100.');
  });

  it('a line that was jumped over sets nothing', () => {
    expect(leadsTo(`${HEAD}F100.\nGOTO 10\nF300.\nN10 G1 |X5.\nM30\n`)[0]).toBe('4 F100.');
  });

  it('in a loop from before it, and from the pass before', () => {
    const loop = `${HEAD}#1=0\nF100.\nWHILE [#1 LT 3] DO1\nG1 |X#1\n#1=#1+1\nF200.\nEND1\nM30\n`;
    expect(leadsTo(loop).slice(0, 2)).toEqual(['5 F100.', '9 F200.']);
  });

  it('GOTO, END and WHILE, M98 P, M99', () => {
    expect(leadsTo('G21\nGOTO |10\nX1.\nN10 X2.\n')).toEqual(['4 N10']);
    expect(leadsTo('#1=10\nGO|TO #1\nX1.\nN10 X2.\n')).toEqual(['4 N10']);
    expect(leadsTo('#1=0\nWHI|LE [#1 LT 1] DO1\n#1=1\nEND1\n')).toEqual(['4 END1']);
    expect(leadsTo('#1=0\n WHILE [#1 LT 1] DO1\n#1=1\nEN|D1\n')).toEqual(['2 WHILE [#1 LT 1] DO1']);
    expect(leadsTo(`M9|8 P20\nM30\n(HERE)\n${SUB}`)).toEqual(['4 O20']);
    expect(leadsTo('M98 P20\nM98 P20\nM30\nO20\nM|99\n')).toEqual(['1 M98 P20', '2 M98 P20']);
    expect(leadsTo('M98 P200|20\nM30\nO20\nM99\n', 'iso-macro')).toEqual(['3 O20']);
    expect(leadsTo('M98 P20\nN5 X1.\nM30\nO20\nM99 P|5\n')).toEqual(['2 N5']);
    expect(leadsTo('M97 P|5\nM30\nN5 X1.\nM99\n', { base: 'iso', localCallCode: 97 })).toEqual(['3 N5']);
  });
});

describe('variables', () => {
  it('lead to the assignment that was executed last', () => {
    expect(leadsTo('#100=1.\n#100=2.\nG1 X#|100\n')).toEqual(['2 #100']);
    expect(leadsTo('#<DEPTH>=1.\nG1 X#< de|pth >\n')).toEqual(['1 #<DEPTH>']);
    expect(leadsTo('#100=1.\n#1|00=#100+1.\n')).toEqual(['2 #100']);
    expect(leadsTo('#100=1.\n#100=#1|00+1.\n')).toEqual(['1 #100']);
    expect(leadsTo('#100=1.\nIF [#100 GT 5] THEN #100=2.\nX#1|00\n')).toEqual(['1 #100']);
    expect(leadsTo('#100=1.\nIF [#100 LT 5] THEN #100=2.\nX#1|00\n')).toEqual(['2 #100']);
    expect(leadsTo('(#100=1)\nX#1|00\n')).toEqual([]);
  });

  it('in a loop to the one before it and the one of the pass before', () => {
    expect(leadsTo('#1=0\nWHILE [#1 LT 3] DO1\nX#|1\n#1=#1+1\nEND1\n')).toEqual(['1 #1', '4 #1']);
  });

  it('of a macro lead to the argument, and not to the caller’s own', () => {
    const macro = 'O90\nG1 X#2|4 F#9\n#30=1\nM99\n';
    expect(leadsTo(`#24=7.\nG65 P90 X10. F50.\nM30\n${macro}`)).toEqual(['2 X10.']);
    expect(leadsTo('#30=1.\nG65 P90\nX#3|0\nM30\nO90\n#30=2.\nM99\n')).toEqual(['1 #30']);
    expect(leadsTo('#5=1.\nG65 P90\nM30\nO90\nX#|5\nM99\n')).toEqual([]);
  });

  it('are shared by a subprogram that M98 calls', () => {
    expect(leadsTo('#5=1.\nM98 P90\nM30\nO90\nX#|5\nM99\n')).toEqual(['1 #5']);
  });
});

it('a program in a file of its own, and a feed that is set there', () => {
  const host = { lookup: () => ({ text: 'O90\nF75.\nM99\n' }) };
  const analysis = new Analysis('F10.\nM98 P90\nG1 X1.\n', DEFAULT_CONFIGURATION, host);
  analysis.run();
  expect(definitionAt(analysis, DEFAULT_CONFIGURATION, 1, 5)).toMatchObject({ places: [], program: 90 });
  expect(definitionAt(analysis, DEFAULT_CONFIGURATION, 2, 4)?.places[0]).toEqual({
    program: 90,
    line: 1,
    column: 0,
    endColumn: 4,
  });
});
