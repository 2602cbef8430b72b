import { describe, expect, it } from 'vitest';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { Analysis } from './analysis.ts';

const program = (moves: number): string => `%\nG0 X0.\n${'X1.\nX2.\n'.repeat(moves / 2)}M30\n%\n`;
const configuration = { ...DEFAULT_CONFIGURATION, limits: { ...DEFAULT_CONFIGURATION.limits, moves: 1000 } };

const analyse = (text: string): Analysis => {
  const analysis = new Analysis(text, configuration);
  analysis.run();
  return analysis;
};

describe('a path with more moves than the limit', () => {
  it('ends there, is told once, and nothing is said of what was not read', () => {
    const analysis = analyse(program(4000));
    expect(analysis.findings().findings.map(({ rule, line }) => [rule, line])).toEqual([['not-executed', 1024]]);
    expect(analysis.findings().findings[0].message).toContain('more than 1000 moves');
    expect(analysis.stopped).toEqual({ line: 1024, why: 'more than 1000 moves' });
    expect(analysis.chunks.filter(({ segments }) => segments.length > 0)).toHaveLength(2);
  });

  it('goes on once it is short enough, and stops again once it is long again', () => {
    const analysis = analyse(program(4000));
    analysis.edit(2, 0, 3900, 0, '');
    analysis.run();
    expect(analysis.findings().findings).toEqual([]);
    expect(analysis.stopped).toBeUndefined();
    analysis.edit(2, 0, 2, 0, 'X1.\nX2.\n'.repeat(1500));
    analysis.run();
    expect(analysis.findings().findings.map(({ rule }) => rule)).toEqual(['not-executed']);
  });

  it('is quiet at the limit', () => {
    expect(analyse(program(998)).findings().findings).toEqual([]);
  });
});

describe('findings beyond a thousand a rule', () => {
  it('are counted together, from blocks and from the whole program', () => {
    const codes = Array.from({ length: 700 }, (_, i) => `G0 X${i % 2}. G777 M${200 + i}`);
    const { findings, more } = analyse(`%\n${codes.join('\n')}\nM30\n%\n`).findings();
    expect(findings.filter(({ rule }) => rule === 'unknown-code')).toHaveLength(1000);
    expect(more).toEqual({ 'unknown-code': 400 });
  });
});
