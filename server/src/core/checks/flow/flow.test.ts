import { describe, expect, it } from 'vitest';
import { Analysis } from '../analysis.ts';

const run = (text: string): Analysis => {
  const analysis = new Analysis(text);
  for (let i = 0; i < 1000 && !analysis.runSlice(20); i++);
  return analysis;
};

/** End points of all moves. */
const ends = (analysis: Analysis): number[][] => {
  const found: number[][] = [];
  for (const { segment } of analysis.passages()) {
    for (let i = 0; i < segment.moves.count; i++) found.push([...segment.moves.ends.subarray(i * 3, i * 3 + 3)]);
  }
  return found;
};

describe('jumps and loops', () => {
  it('straight', () => {
    expect(ends(run('G0 X0 Y0 Z0\nG1 X1 F100\nM30'))).toHaveLength(2);
  });
  it('a WHILE loop runs as long as its condition holds', () => {
    const analysis = run('G0 X0 Y0 Z0\n#1=1\nWHILE [#1 LE 3] DO1\nG0 X[#1*10]\n#1=#1+1\nEND1\nG0 X0\nM30\n');
    expect(ends(analysis).map(([x]) => x)).toEqual([0, 10, 20, 30, 0]);
  });
});
