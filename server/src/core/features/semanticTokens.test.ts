import { describe, expect, test } from 'vitest';
import { executed, type ProfileChoice } from '../../../../tests/harness/path.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { PROFILES } from '../machine/profile.ts';
import { MOST_LINES, semanticTokens } from './semanticTokens.ts';

/** The words of a program's last line, each with its kind and modifiers. */
function lastLine(text: string, profile: ProfileChoice = 'iso'): string[] {
  const analysis = executed(text, profile);
  const line = analysis.lineCount - 1;
  const own = typeof profile === 'string' ? PROFILES[profile] : { ...PROFILES[profile.base], ...profile };
  return semanticTokens(analysis, { ...DEFAULT_CONFIGURATION, profile: own }, line, line).map((token) =>
    [analysis.lineText(line).slice(token.column, token.endColumn), token.kind, ...token.modifiers].join(' '),
  );
}

const HEAD = 'G17 G21 G90 G54\nT1 M6\nG0 X0. Y0. Z5.\n';

describe('semantic tokens', () => {
  test.each([
    [
      'N10 G1 X10. F200 S1500 M3',
      ['N10 sequenceNumber', 'G1 motion', 'X10. axis', 'F200 feed', 'S1500 speed', 'M3 machineFunction'],
    ],
    ['X10.', ['X10. axis inherited rapid']],
    ['G91 G1 X10. F1', ['G91 mode', 'G1 motion', 'X10. axis incremental', 'F1 feed']],
    ['T12 M6 (TAP M8X1.25)', ['T12 tool', 'M6 machineFunction', 'M8X1.25 thread']],
    ['G43 H1 Z2.', ['G43 mode', 'H1 tool', 'Z2. axis inherited rapid']],
    ['G2 X1. Y1. I1. K3. F9', ['G2 motion', 'X1. axis', 'Y1. axis', 'I1. arcWord', 'F9 feed']],
    ['G18\nG2 X1. Z1. I1. J3. F9', ['G2 motion', 'X1. axis', 'Z1. axis', 'I1. arcWord', 'F9 feed']],
    ['G1 X1. F9\nG3 X2. R5.', ['G3 motion', 'X2. axis', 'R5. arcWord']],
    [
      'G83 X1. Z-9. R2. Q3. F9',
      ['G83 motion', 'X1. axis', 'Z-9. cycleWord', 'R2. cycleWord', 'Q3. cycleWord', 'F9 feed'],
    ],
    ['G81 X1. Z-9. R2. F9\nX5. Z-8.', ['X5. axis inherited', 'Z-8. cycleWord inherited']],
    ['G18\nG81 X1. Y-9. R2. F9', ['G81 motion', 'X1. axis', 'Y-9. cycleWord', 'R2. cycleWord', 'F9 feed']],
    ['G81 X1. Z-9. R2. F9\nG80\nZ9.', ['Z9. axis inherited rapid']],
    ['G4 P500', ['G4 mode', 'P500 codeWord']],
    ['G4 X1.5', ['G4 mode', 'X1.5 codeWord']],
    ['G28 Z0.', ['G28 mode', 'Z0. axis']],
    ['G68 X1. Y2. R30.', ['G68 mode', 'X1. axis', 'Y2. axis', 'R30. codeWord']],
    ['#101=#102+1', ['#101 variable modification', '#102 variable']],
    ['#3=#5041', ['#3 variable modification', '#5041 variable defaultLibrary']],
    ['#1=2\nX[#1+1.] Y-#1', ['X axis inherited rapid', '#1 variable', 'Y axis inherited rapid', '#1 variable']],
    ['M98 P1000 L2', ['M98 program', 'P1000 program', 'L2 codeWord']],
    ['G65 P9010 X1. F2.', ['G65 program', 'P9010 program', 'X1. argument', 'F2. argument']],
    ['O77', ['O77 program']],
    ['M99 P30', ['M99 program', 'P30 sequenceNumber']],
    ['(M6 THREADS, X10)', ['M6 thread']],
    ['%', []],
    ['G1 X$5. Y2.', ['G1 motion', 'Y2. axis']],
  ])('%s', (text, expected) => {
    expect(lastLine(HEAD + text)).toEqual(expected);
  });

  test('a jump names a sequence number, in a remark it names none', () => {
    expect(lastLine(`${HEAD}#1=1\nN30 M0\nIF [#1 EQ 2] GOTO 30 (GOTO 30)`)).toEqual([
      '#1 variable',
      '30 sequenceNumber',
    ]);
  });

  test('the lead of a thread is a feed', () => {
    expect(lastLine(`${HEAD}S100 M3\nG33 Z-10. K1.5`, { base: 'iso', leadWord: 'K' })).toEqual([
      'G33 motion',
      'Z-10. axis',
      'K1.5 feed',
    ]);
  });

  test('a line that is never reached is told by its own words', () => {
    expect(lastLine(`${HEAD}GOTO 10\nG1 F100\nN10 M30\nX5. Y5.`).map((word) => word.split(' ')[1])).toEqual([
      'axis',
      'axis',
    ]);
  });

  test('a loop is coloured as its first pass runs it', () => {
    const text = `${HEAD}#1=0\nWHILE [#1 LT 3] DO1\nX5.\nG1 X6. F100\n#1=#1+1\nEND1\nM30`;
    const analysis = executed(text);
    const [token] = semanticTokens(analysis, DEFAULT_CONFIGURATION, 5, 5);
    expect(token).toMatchObject({ kind: 'axis', modifiers: ['inherited', 'rapid'] });
  });

  test('only the lines that are asked for, and never more than the most', () => {
    const analysis = executed('X1.\n'.repeat(MOST_LINES + 700));
    const all = semanticTokens(analysis, DEFAULT_CONFIGURATION, 600, 1e9);
    expect([all.length, all[0]?.line, all.at(-1)?.line]).toEqual([MOST_LINES, 600, 600 + MOST_LINES - 1]);
    expect(semanticTokens(analysis, DEFAULT_CONFIGURATION, 9, 9)).toHaveLength(1);
  });
});
