import { describe, expect, it } from 'vitest';
import { Analysis } from '../core/checks/analysis.ts';
import { readPackedPath, STYLE_BITS } from '../core/geometry/packedLayout.ts';
import { INDEX_CHUNK, isPathIndex, type PathIndex } from '../core/geometry/pathRequest.ts';
import { DEFAULT_CONFIGURATION } from '../core/machine/configuration.ts';
import { packChunkFor } from './pathHandover.ts';

const ask = (chunk: number) => ({ uri: 'u', version: 1, chunk, layer: 'program' as const });

const list = (analysis: Analysis): PathIndex => {
  const index: unknown = JSON.parse(new TextDecoder().decode(packChunkFor(analysis, ask(INDEX_CHUNK))));
  if (!isPathIndex(index)) throw new Error('not a list');
  return index;
};

/** X and line of each vertex, in the order of the pieces. */
const vertices = (analysis: Analysis): [number, number][] =>
  list(analysis).pieces.flatMap(({ id, firstLine }) => {
    const path = readPackedPath(packChunkFor(analysis, ask(id)));
    if (path === undefined) throw new Error('not a piece');
    const { positions, codes, origin } = path;
    return Array.from(codes, (code, i): [number, number] => [
      origin[0] + positions[i * 3],
      firstLine + ((code | 0) >> STYLE_BITS),
    ]);
  });

const run = (analysis: Analysis): Analysis => {
  analysis.run();
  return analysis;
};

const LOOP = 'G90 G0 X0. Y0. Z0.\n#1=0\nWHILE [#1 LT 3] DO1\n#1=#1+1\nG1 X#1 F100.\nEND1\nG0 X9.\nM30\n';

describe('the path of a program with a loop', () => {
  it('comes in the order of the run, each move under its own line', () => {
    const known = vertices(run(new Analysis(LOOP))).filter(([x]) => x > 0);
    const inOrder = known.filter(([x], i) => i === 0 || x !== known[i - 1][0]);
    expect(inOrder).toEqual([
      [1, 4],
      [2, 4],
      [3, 4],
      [9, 6],
    ]);
  });

  it('keeps its lines when one is put in above', () => {
    const analysis = run(new Analysis(LOOP));
    list(analysis);
    analysis.edit(0, 0, 0, 0, '(A REMARK)\n');
    expect(vertices(run(analysis))).toEqual(vertices(run(new Analysis(`(A REMARK)\n${LOOP}`))));
  });

  it('is read by the modes of the configuration in force', () => {
    const analysis = run(new Analysis(LOOP));
    expect(list(analysis).inch).toBe(false);
    const { profile } = DEFAULT_CONFIGURATION;
    const inch = { ...DEFAULT_CONFIGURATION, profile: { ...profile, start: { ...profile.start, units: 20 } } };
    analysis.configure(inch);
    expect(list(run(analysis)).inch).toBe(true);
  });
});
