import { describe, expect, test } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { PROFILES } from '../machine/profile.ts';
import { signatureAt } from './signature.ts';

const HEAD = 'G17 G21 G40 G49 G80 G90 G94 G54\nT1 M6 (DRILL D5)\nS500 M3\nG0 X0. Y0. Z10.\n';

const signature = (text: string, profile = 'iso', isAsked = false) => {
  const before = text.slice(0, text.indexOf('|')).split('\n');
  const configuration = { ...DEFAULT_CONFIGURATION, profile: PROFILES[profile] };
  const analysis = new Analysis(text.replace('|', ''), configuration);
  analysis.run();
  return signatureAt(analysis, configuration, before.length - 1, before[before.length - 1].length, isAsked);
};
/** Label, and the word that is marked. */
const shown = (text: string, profile?: string, isAsked?: boolean) => {
  const found = signature(text, profile, isAsked);
  if (found === undefined) return undefined;
  const word = found.words[found.active];
  return [found.label, word === undefined ? '' : found.label.slice(word.start, word.end)];
};

describe('cycles', () => {
  test.each([
    ['G83 |', ['G83 X Y Z R Q F L', 'X']],
    ['G83 X|', ['G83 X Y Z R Q F L', 'X']],
    ['G83 X5. Y5|', ['G83 X Y Z R Q F L', 'Y']],
    ['G83 X5. Y5. |', ['G83 X Y Z R Q F L', 'Z']],
    ['G83 X5. Y5. Z-12. R2. |', ['G83 X Y Z R Q F L', 'Q']],
    ['G83 X5. Y5. R2. Q3. Z-12. F100 L2 |', ['G83 X Y Z R Q F L', '']],
    ['N10 G99 G81 |', ['G81 X Y Z R F L', 'X']],
    ['G84 X5. Y5. Z-5. R2. |', ['G84 X Y Z R P F L', 'F']],
    ['G18 G81 |', ['G81 X Z Y R F L', 'X']],
    ['G76 X5. Y5. Z-5. I1. |', ['G76 X Y Z R Q P I J F L', 'R']],
    ['G83 X5. Z|G43', ['G83 X Y Z R Q F L', 'Z']],
  ])('%s', (text, expected) => expect(shown(HEAD + text)).toEqual(expected));

  test('what the code does, and what it lacks', () => {
    expect(signature(`${HEAD}G83 X5. R2. |`)?.text).toBe(
      'drill in pecks, full lift out of the hole each time; still missing: Z, Q',
    );
    expect(signature(`${HEAD}G81 X1. Z-5. R2. F100\nG82 X5. P1. |`)?.text).toBe(
      'drill with a dwell at the bottom, rapid out',
    );
  });

  test('by profile: the codes that it has, the letter that repeats, the unit of a wait', () => {
    expect(shown(`${HEAD}G73 |`, 'rs274ngc')).toBeUndefined();
    expect(shown(`${HEAD}G87 |`, 'rs274ngc')?.[0]).toBe('G87 X Y Z R I J K F L');
    const wait = (profile: string) =>
      signature(`${HEAD}G82 |`, profile)?.words.find(({ meaning }) => meaning.startsWith('wait'))?.meaning;
    expect(wait('rs274ngc')).toBe('wait at the bottom in seconds');
    expect(wait('iso-macro')).toBe('wait at the bottom in milliseconds');
  });
});

describe('arcs', () => {
  test.each([
    ['G2 |', 'X'],
    ['G2 X10. Y10. |', 'I'],
    ['G2 X10. Y10. I5. |', 'J'],
    ['G2 X10. Y10. I5. J5. |', 'Z'],
    ['G2 X10. Y10. R9. |', 'Z'],
    ['G2 X10. Y10. R|', 'R'],
  ])('%s', (text, word) => expect(shown(HEAD + text)).toEqual(['G2 X Y I J R Z P F', word]));
});

describe('calls', () => {
  const SUB = '\nM30\nO100 (ROW, #24 = X OF THE FIRST HOLE)\nG0 X#24\n#1=#26+1.\nZ#1\nM99\n';

  test('a macro shows the letters that its program reads, with what a remark says of them', () => {
    const found = signature(`${HEAD}G65 P100 |${SUB}`);
    expect(found?.label).toBe('G65 P L A X Z');
    expect(found?.words.map(({ meaning }) => meaning).slice(2)).toEqual([
      '#1 of the program',
      '#24 of the program: X OF THE FIRST HOLE',
      '#26 of the program',
    ]);
    expect(shown(`${HEAD}G65 P100 X5|${SUB}`)?.[1]).toBe('X');
  });

  test('all letters where the program is not known', () => {
    expect(signature(`${HEAD}G65 |${SUB}`)?.label).toBe('G65 P L A B C D E F H I J K M Q R S T U V W X Y Z');
    expect(shown(`${HEAD}G65 |${SUB}`)?.[1]).toBe('P');
  });

  test('a plain call', () => {
    expect(shown(`${HEAD}M98 |${SUB}`)).toEqual(['M98 P L', 'P']);
    expect(shown(`${HEAD}M98 P100 |${SUB}`)).toEqual(['M98 P L', 'L']);
    expect(shown(`${HEAD}M98 |`, 'rs274ngc')).toBeUndefined();
  });
});

test.each(['G1 X5. |', 'X5. |', '(G83 |)', 'G0 G17 G40 |', '|', '|G83 X1.'])('nothing at %s', (text) => {
  expect(shown(HEAD + text)).toBeUndefined();
});

test('a cycle or an arc that holds from before is shown when somebody asks', () => {
  const text = `${HEAD}G83 X5. Z-12. R2. Q3. F100\nX20. |`;
  expect(shown(text)).toBeUndefined();
  expect(shown(text, 'iso', true)).toEqual(['G83 X Y Z R Q F L', 'Y']);
  expect(shown(`${HEAD}G2 X10. Y10. R9. F100\nX5. |`, 'iso', true)?.[0]).toBe('G2 X Y I J R Z P F');
});
