import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { makeBlock } from '../../../../tests/harness/blocks.ts';
import { executed, path } from '../../../../tests/harness/path.ts';
import { seeded } from '../../../../tests/protocol/programs.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { allOf } from './referencesText.ts';
import { type Unneeded, unneeded } from './unneeded.ts';

const found = (text: string, configuration: Partial<Configuration> = {}): Unneeded[] =>
  allOf(unneeded(executed(text, 'iso', configuration), { ...DEFAULT_CONFIGURATION, ...configuration }));

/** Line (from 0) and text of each stretch; of several lines the first and the last. */
function told(text: string, configuration?: Partial<Configuration>): string[] {
  const lines = text.split('\n');
  return found(text, configuration).map(({ line, column, endLine, endColumn }) =>
    line === endLine ? `${line} ${lines[line]!.slice(column, endColumn)}` : `${line} to ${endLine}`,
  );
}

/** A program without what is dimmed in it. */
function without(text: string, all: readonly Unneeded[]): string {
  const lines = text.split('\n');
  for (const { line, column, endLine, endColumn } of [...all].reverse()) {
    if (endLine > line) lines.splice(line, endLine - line + 1);
    else if (/#/.test(lines[line]!.slice(column, endColumn))) lines[line] = '';
    else lines[line] = `${lines[line]!.slice(0, column)} ${lines[line]!.slice(endColumn)}`;
  }
  return lines.join('\n');
}

const HEAD = 'G17 G21 G40 G49 G80 G90 G54\nT1 M6\nS3000 M3\nG0 X0. Y0.\nG43 H1 Z5.\n';

describe('variables that nothing reads', () => {
  test('are dimmed where they are set', () => {
    expect(told(`#1=5.\n#2=6.\n${HEAD}G1 X#1 F100\nM30`)).toEqual(['1 #2']);
    expect(told(`#<deep>=5.\n#<wide>=6.\n${HEAD}G1 X#<wide> F100\nM30`)).toEqual(['0 #<deep>']);
    expect(found(`#2=6.\nM30`)[0]!.message).toBe('#2 is set here, but nothing in this program reads it.');
  });

  test.each([
    ['kept when the control is off', '#500=5.\nM30'],
    ['of the control', '#3000=1 (ALARM)\nM30'],
    ['named for all programs', '#<_deep>=5.\nM30'],
    ['where any may be read', '#1=2.\n#2=3.\nG0 X##1\nM30'],
    ['where a program elsewhere is called', '#101=5.\nM98 P7000\nM30'],
    ['in a subprogram', 'O7\n#101=5.\nM99'],
  ])('not those %s', (_, text) => {
    expect(told(text)).toEqual([]);
  });
});

describe('blocks that the run never comes to', () => {
  test('behind a jump, up to where another one leads', () => {
    expect(told(`${HEAD}GOTO 10\n(A REMARK)\nX5.\nY5.\n\nN10 G0 Z50.\nM30`)).toEqual(['7 to 8']);
  });

  test('what a condition leaves out, where the program sets what decides', () => {
    expect(told(`#1=2\n${HEAD}IF [#1 EQ 2] GOTO 10\nX5.\nN10 G0 Z50.\nM30`)).toEqual(['7 X5.']);
    expect(told(`${HEAD}IF [#1 EQ #0] GOTO 10\nX5.\nN10 G0 Z50.\nM30`)).toEqual([]);
    expect(told(`#500=2\n${HEAD}IF [#500 EQ 2] GOTO 10\nX5.\nN10 G0 Z50.\nM30`)).toEqual([]);
  });

  test('behind the end, not the next program of the file', () => {
    expect(told(`O1\n${HEAD}M30\nX5.\nX6.\n%`)).toEqual(['7 to 8']);
    expect(told(`O1\n${HEAD}M30\nO2\nG0 X1.\nM30`)).toEqual([]);
  });

  test('not a subprogram that nothing here calls', () => {
    expect(told(`O1\n${HEAD}M98 P2\nM30\nO2\nG0 X1.\nM99\nO3\nG0 X2.\nM99`)).toEqual([]);
  });

  test('not where the run is cut off', () => {
    const endless = `${HEAD}#1=0\nWHILE [#1 LT 1] DO1\nX1.\nEND1\nX5.\nM30`;
    expect(told(endless, { limits: { ...DEFAULT_CONFIGURATION.limits, steps: 1000 } })).toEqual([]);
  });

  test('what block delete leaves out, where it is on', () => {
    const text = `${HEAD}/X5.\nX6.\nM30`;
    expect(told(text)).toEqual([]);
    expect(told(text, { blockDelete: 'skip' })).toEqual(['5 /X5.']);
  });
});

describe('modes that are given again', () => {
  test('not in a generated block, which says all that it counts on', () => {
    const before = `${HEAD}X1.\n`;
    const { lines = [] } = makeBlock('helical-bore', {
      bore: 20,
      depth: 6,
      tool: 10,
      speed: 3000,
      feed: 300,
      at: '0,0',
    });
    const plain = lines.filter((line) => !line.includes('BLOCKWRIGHT-'));
    expect(plain.length).toBeLessThan(lines.length);
    expect(told(`${before}${plain.join('\n')}\nM30`).length).toBeGreaterThan(0);
    expect(told(`${before}${lines.join('\n')}\nM30`)).toEqual([]);
  });

  test('in the same section, behind its first move', () => {
    expect(told(`${HEAD}G1 Z-1. F100\nG90 X5.\nG17 G90 S3000 Y5.\nM3\nM30`)).toEqual(['7 G90', '7 S3000', '8 M3']);
    expect(found(`${HEAD}G90 X4.\ng 90 X5.\nM30`)[0]!.message).toBe('G90 holds already.');
  });

  test.each([
    ['a safe start of the next section', `${HEAD}T2 M6\nG17 G21 G40 G49 G80 G90 G54\nS3000 M3\nG0 X1.\nM30`],
    ['said before the first move', 'G90\nT1 M6\nG90 G17\nG90 G17 G54\nG54 G0 X1.\nM30'],
    ['what changed between', `${HEAD}G91 X1.\nG90 X5.\nM5\nM3\nM9\nM8\nM9\nM8\nM30`],
    ['behind a stop, where a run may begin', `${HEAD}M1\nG90 G54 G17 G0 X5.\nS3000 M3\nM30`],
    ['behind a call', `O1\n${HEAD}M98 P2\nG90 X5.\nM30\nO2\nG91 X1.\nM99`],
    ['in a subprogram', 'O7\nG90 X1.\nG90 X2.\nM99'],
    ['in a loop', `#1=0\n${HEAD}WHILE [#1 LT 3] DO1\nG90 X1.\nG90 X2.\n#1=#1+1\nEND1\nM30`],
    ['motion codes and feeds, a style', `${HEAD}G1 Z-1. F100\nG1 X5. F100\nG1 X6. F100\nM30`],
    ['codes that end something, said for safety', `${HEAD}G40 G49 G80 X5.\nG40 G80 M9\nM9\nM30`],
    ['the speed that prepares tapping', `${HEAD}M29 S3000\nG84 X1. Z-9. R2. F3000.\nG80\nM30`],
    ['behind a shift of the zero', `${HEAD}G92 X0.\nG54 X5.\nM30`],
    ['an extra offset', `${HEAD}G54.1 P1 X1.\nG54.1 P2 X1.\nM30`],
    ['a block that may be left out', `${HEAD}/G91\nG90 X1.\nM30`],
  ])('not: %s', (_, text) => {
    expect(told(text)).toEqual([]);
  });

  test('across chunks of lines', () => {
    const moves = Array.from({ length: 1500 }, (_, i) => `X${i + 1}.`).join('\n');
    expect(told(`${HEAD}G90 G1 Z-1. F100\n${moves}\nG90 Y5.\nM30`)).toEqual(['1506 G90']);
  });
});

describe('what is dimmed can go', () => {
  const WORDS = [
    'G90',
    'G91',
    'G17',
    'G18',
    'G54',
    'G55',
    'S3000',
    'S500',
    'M3',
    'M8',
    'M9',
    'G94',
    'M1',
    'T2 M6',
    'G0',
    'G1',
    '#1=1',
    '#2=#1',
  ];

  test('the path of random programs stays the same without it', () => {
    const random = seeded(11);
    const pick = (): string => WORDS[Math.floor(random() * WORDS.length)]!;
    let dimmed = 0;
    for (let round = 0; round < 150; round++) {
      const blocks = Array.from({ length: 14 }, () => {
        const first = pick();
        if (first.startsWith('#') || first.startsWith('T')) return first;
        const second = pick();
        const more = /^[#T]/.test(second) || second[0] === first[0] ? '' : ` ${second}`;
        return `${first}${more}${random() < 0.7 ? ` X${Math.floor(random() * 9)}.` : ''}`;
      });
      const text = `${HEAD}F100\n${blocks.join('\n')}\nX#2\nM30`;
      const all = found(text);
      dimmed += all.length;
      const [before, after] = [executed(text), executed(without(text, all))];
      expect(path(without(text, all)), text).toEqual(path(text));
      const end = (analysis: typeof before) => [...analysis.stateAfter(analysis.lineCount - 1).modes].slice(1, 24);
      if (all.every(({ line, endLine }) => line === endLine)) expect(end(after), text).toEqual(end(before));
    }
    expect(dimmed).toBeGreaterThan(120);
  });

  test('the examples have nothing dimmed', () => {
    const folder = new URL('../../../../examples/', import.meta.url);
    for (const name of readdirSync(folder).filter((each) => each.endsWith('.nc')))
      expect(told(readFileSync(new URL(name, folder), 'utf8')), name).toEqual([]);
  });
});
