import { describe, expect, it } from 'vitest';
import { executed, type ProfileChoice } from '../../../../tests/harness/path.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { PROFILES } from '../machine/profile.ts';
import { highlightsAt } from './highlights.ts';
import { type References, referencesAt } from './references.ts';
import { allOf } from './referencesText.ts';

const search = (marked: string, profile: ProfileChoice = 'iso', most = 5000) => {
  const before = marked.slice(0, marked.indexOf('|')).split('\n');
  const analysis = executed(marked.replace('|', ''), profile);
  const base = typeof profile === 'string' ? PROFILES[profile] : { ...PROFILES[profile.base], ...profile };
  const configuration = { ...DEFAULT_CONFIGURATION, profile: base };
  const place = [before.length - 1, before[before.length - 1].length] as const;
  return { analysis, configuration, found: allOf(referencesAt(analysis, configuration, ...place, most)), place };
};
/** Lines from 1 with the text of the use; `!` where it is set. */
const uses = (marked: string, profile: ProfileChoice = 'iso'): string[] => {
  const { analysis, found } = search(marked, profile);
  return (found?.places ?? []).map(
    ({ line, column, endColumn, isSet }) =>
      `${line + 1}${isSet ? '!' : ''} ${analysis.lineText(line).slice(column, endColumn)}`,
  );
};

const HEAD = 'G17 G21 G40 G49 G80 G90 G54\nT1 M6 (END MILL D10)\nS3000 M3\n';

describe('of a feed: the cuts that run at it', () => {
  it('up to the next one, without rapids', () => {
    expect(uses(`${HEAD}G0 X0. Y0.\nG1 Z0. F|200.\nX10. (ON)\nG0 X20.\nG1 X30.\nF100. X40.\nX50.\n`)).toEqual([
      '5! F200.',
      '6 X10.',
      '8 G1 X30.',
    ]);
  });

  it('not those at the same number set elsewhere', () => {
    expect(uses(`${HEAD}G1 X0. F|200.\nX1.\nF100. X2.\nF200. X3.\nX4.\n`)).toEqual(['4! F200.', '5 X1.']);
    expect(uses(`${HEAD}G1 X0. F200.\nX1.\nF200. X2.\nX|3. F200.\n`)).toEqual([]);
  });

  it('through a subprogram', () => {
    expect(uses(`${HEAD}G0 X0.\nF|100.\nM98 P20\nG1 X9.\nM30\nO20\nG1 X1.\nM99\n`)).toEqual([
      '5! F100.',
      '7 G1 X9.',
      '10 G1 X1.',
    ]);
    expect(uses(`${HEAD}G0 X0.\nF|100.\nM98 P20\nG1 X9.\nM30\nO20\nG1 X1. F50.\nM99\n`)).toEqual(['5! F100.']);
  });

  it('past ten thousand lines it says that there are more', () => {
    const many = Array.from({ length: 10_000 }, (_, i) => `X${i + 1}.`).join('\n');
    const { found } = search(`${HEAD}G1 X0. F|200.\n${many}\n`);
    expect(found?.places.length).toBe(5000);
    expect(found?.isCutShort).toBe(true);
    expect(search(`${HEAD}G1 X0. F|200.\nX1.\n`).found?.isCutShort).toBe(false);
  });
});

describe('of a tool and an offset: all that runs under it', () => {
  const TWO = `${HEAD}G0 X0.\nT2 M6\nG0 X5.\nG55\nG0 X1.\nT1 M6\nG0 X2.\nG54 X3.\n`;

  it('wherever it is in force', () => {
    expect(uses(TWO.replace('T1', 'T|1'))).toEqual(['2! T1', '4 G0 X0.', '9! T1 M6', '10 G0 X2.', '11 G54 X3.']);
    expect(uses(TWO.replace('G55', 'G|55'))).toEqual(['7! G55', '8 G0 X1.', '10 G0 X2.']);
  });

  it('also in further passes', () => {
    const sub = 'O20\nG91 G0 X1.\nG90\nM99\n';
    expect(uses(`${HEAD}G0 X0.\nM98 P20\nT|2 M6\nM98 P20\nM30\n${sub}`)).toEqual(['6! T2', '10 G91 G0 X1.']);
  });
});

describe('of a variable', () => {
  it('by number and by name, read and set, not in remarks', () => {
    const program = '#100=5. (#100)\nG1 X#1|00 Y[#100*2] F#101\nIF [#100 EQ 1] THEN #100 = 2\n#1000=1\n';
    expect(uses(program)).toEqual(['1! #100', '2 #100', '2 #100', '3 #100', '3! #100']);
    expect(uses('#<a b>=1.\nX#<A|B> Y-# < ab >\nX#<ABC>\n')).toEqual(['1! #<a b>', '2 #<AB>', '2 # < ab >']);
  });

  it('of a macro only in the macro; of a subprogram also in its caller', () => {
    const macro = (call: string) => `#24=1.\nX#|24\n${call}\nM30\nO90\nX#24\nM99\n`;
    expect(uses(macro('G65 P90 X5.'))).toEqual(['1! #24', '2 #24']);
    expect(uses(macro('M98 P90'))).toEqual(['1! #24', '2 #24', '6 #24']);
  });
});

describe('of numbers', () => {
  it('a block’s: GOTO, IF, M99 P of the called program; in its own program only', () => {
    const program =
      'O1\nN10 X1.\nGOTO 10\nIF [#1 EQ 1] GO TO 10\nGOTO 100\nM98 P2\nM30\nO2\nN1|0 X1.\nGOTO 10\nM99 P10\n';
    expect(uses(program)).toEqual(['9! 10', '10 10']);
    expect(uses(program.replace('|', '').replace('N10 X1.\nGOTO 10\nIF', 'N|10 X1.\nGOTO 10\nIF'))).toEqual([
      '2! 10',
      '3 10',
      '4 10',
      '11 10',
    ]);
  });

  it('a program’s: its calls, with how often they run it', () => {
    expect(uses('M98 P30020\nG65 P20 A1.\nM98 P21\nM30\nO00|20\nM99\n', 'iso-macro')).toEqual([
      '1 0020',
      '2 20',
      '5! 0020',
    ]);
    expect(uses('M98 P20 L3\nM30\nO20\nM|99\n')).toEqual(['1 20', '3! 20']);
  });

  it('a loop’s ends', () => {
    expect(uses('#1=0\nWHILE [#1 LT 1] D|O1\n#1=1\nEND1 (X)\n')).toEqual(['2 WHILE [#1 LT 1] DO1', '4 END1']);
  });
});

it('nothing for words that only hold for their block, remarks and empty lines', () => {
  for (const line of ['G1 X|1.', '(F|1)', '|', 'M3|0']) expect(search(`${HEAD}${line}\n`).found, line).toBeUndefined();
});

it('highlights are the same places, fewer at most', () => {
  const { analysis, configuration, place, found } = search(`${HEAD}G1 X0. F|200.\nX1.\n`);
  expect(allOf(highlightsAt(analysis, configuration, ...place))).toEqual((found as References).places);
  const many = search(`${HEAD}G1 X0. F|200.\n${Array.from({ length: 3000 }, (_, i) => `X${i}.`).join('\n')}\n`);
  expect(allOf(highlightsAt(many.analysis, many.configuration, ...many.place))?.length).toBe(1000);
});

it('highlights leave out what holds for the whole program, references do not', () => {
  const { analysis, configuration, place, found } = search(`${HEAD.replace('G90', 'G|90')}G1 X0. F200.\nX1.\n`);
  expect(found?.places.map(({ line }) => line)).toEqual([0, 3, 4]);
  expect(allOf(highlightsAt(analysis, configuration, ...place))).toBeUndefined();
});
