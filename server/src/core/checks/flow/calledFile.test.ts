/** What is found in the file of a called program is told at its call. */
import { describe, expect, it } from 'vitest';
import { DEFAULT_CONFIGURATION } from '../../machine/configuration.ts';
import { Analysis } from '../analysis.ts';
import type { SubprogramHost } from './host.ts';

const found = (text: string, file: string): string[] => {
  const host: SubprogramHost = { lookup: () => ({ text: file }) };
  const analysis = new Analysis(text, DEFAULT_CONFIGURATION, host);
  analysis.run();
  return analysis
    .findings()
    .findings.map(
      ({ line, column, endColumn, message }) => `${line + 1}:${column}-${endColumn} ${message.split('.')[0]}`,
    );
};

describe('findings in a called program’s file', () => {
  const HEAD = 'G21 G90 G17 G54\nG0 X0 Y0 Z5.\n';

  it('name its line, at the columns of the call, once for all calls and passes', () => {
    expect(
      found(`${HEAD}  M98 P100 L2 (SLOT)\nM30`, 'O100\nG0 X1. (TO THE SLOT)\nG0 X2. X3.\nG0 Y2. Y3.\nM99'),
    ).toEqual([
      '3:2-20 In O100, line 3: This block has X more than once (X2',
      '3:2-20 In O100, line 4: This block has Y more than once (Y2',
    ]);
  });

  it('are told at the outermost call', () => {
    const text = `${HEAD}M98 P100\nM30`;
    expect(found(text, 'O100\nM98 P200\nM99\nO200\nG0 X2. X3.\nM99')).toEqual([
      '3:0-8 In O200, line 5: This block has X more than once (X2',
    ]);
  });
});

describe('an alarm in a called program’s file', () => {
  it('is told at the call with its text, and ends the run', () => {
    const file = 'O100\nIF [#1 EQ #0] THEN #3000=3 (A IS MISSING)\n#5=#2\nM99';
    expect(found('G54 G21 G90\nG65 P100 B1.\nG0 X1. X2.\nM30', file)).toEqual([
      '2:0-12 The program raises its own alarm 3 (A IS MISSING) here and stops: path and checks end here',
      '3:7-10 This block has X more than once (X1',
    ]);
  });
});
