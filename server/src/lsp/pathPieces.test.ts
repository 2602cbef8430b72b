// The view keeps pieces by id: after any edit, what it has and what it fetches must be what a fresh run gives.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Analysis } from '../core/checks/analysis.ts';
import { PathStyle, ROW_WIDTH, readPackedPath, STYLE_BITS, STYLE_MASK } from '../core/geometry/packedLayout.ts';
import { readPackedTimes } from '../core/geometry/packedPathTimes.ts';
import { INDEX_CHUNK, type PathContent, type PathIndex } from '../core/geometry/pathRequest.ts';
import { packChunkFor } from './pathHandover.ts';

const ask = (chunk: number, what: PathContent = 'path') => ({
  uri: 'u',
  version: 0,
  chunk,
  layer: 'program' as const,
  what,
});

/** The pieces that a view holds. */
class Held {
  readonly pieces = new Map<number, ArrayBuffer>();
  readonly times = new Map<number, ArrayBuffer>();
  fetched = 0;
  /** What the newest list says of the whole, without the places, which are told by piece. */
  summary = '';

  /** Fetches what is missing; gives the drawn ways: line, style, end point, second, what holds on it, one by one. */
  follow(analysis: Analysis): number[] {
    const index: PathIndex = JSON.parse(new TextDecoder().decode(packChunkFor(analysis, ask(INDEX_CHUNK))));
    this.fetched = 0;
    this.summary = JSON.stringify(index.summary, (key, value) =>
      key === 'at' || key === 'start' ? undefined : typeof value === 'number' ? Math.round(value * 1e4) / 1e4 : value,
    );
    let start = 0;
    const ways: number[] = [];
    for (const { id, firstLine, seconds } of index.pieces) {
      if (!this.pieces.has(id)) {
        this.pieces.set(id, packChunkFor(analysis, ask(id)));
        this.times.set(id, packChunkFor(analysis, ask(id, 'times')));
        this.fetched++;
      }
      const { codes, positions, origin, rows, rowOf } = readPackedPath(this.pieces.get(id)!)!;
      const times = readPackedTimes(this.times.get(id)!)!;
      codes.forEach((code, i) => {
        if ((code & STYLE_MASK) === PathStyle.none) return;
        ways.push(firstLine + (code >>> STYLE_BITS), code & STYLE_MASK, start + times.seconds[i]);
        for (let axis = 0; axis < 3; axis++) ways.push(positions[i * 3 + axis] + origin[axis]);
        for (let field = 0; field < ROW_WIDTH; field++) ways.push(rows[rowOf[i] * ROW_WIDTH + field]);
      });
      start += seconds;
    }
    return ways;
  }
}

/** True if two paths are one, to what the short numbers of positions allow. */
const isSame = (a: readonly number[], b: readonly number[]): boolean =>
  a.length === b.length &&
  a.every((value, i) => Math.abs(value - b[i]) < 0.002 || (Number.isNaN(value) && Number.isNaN(b[i])));

const program = (lines: number): string => {
  const text = ['G21 G90 G17 G54', 'T1 M6', 'S3000 M3', 'G0 X0 Y0 Z5', 'G1 Z-1 F200'];
  for (let i = 0; i < lines; i++) text.push(i % 9 === 4 ? `G2 X${i % 50} Y${i % 7} R90` : `G1 X${i % 50} Y${i % 7}`);
  return [...text, 'M30', ''].join('\n');
};

const line = fc.constantFrom(
  'G1 X10 Y5\n',
  'G0 Z10\n',
  'G91\n',
  'G90\n',
  '(remark)\n',
  'G2 X20 Y0 I5 J0\n',
  'G19\n',
  'G20\n',
  'X1\nX2\nX3\n',
  '',
  'G81 X1 Y1 Z-4 R2 F100\n',
  'G80\n',
  'F350\n',
  'M1\n',
  'T2 M6 (DRILL D5)\n',
  'G4 P0.5\n',
  'G55\n',
);

describe('following edits', () => {
  it('gives the path of a fresh run after random edits', () => {
    const edit = fc.record({ at: fc.nat(1500), drop: fc.nat(3), text: line });
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 6 }), (edits) => {
        const analysis = new Analysis(program(1400));
        analysis.run();
        const held = new Held();
        held.follow(analysis);
        for (const { at, drop, text } of edits) {
          analysis.edit(at, 0, at + drop, 0, text);
          analysis.run();
          const fresh = new Analysis(analysis.text());
          fresh.run();
          const afresh = new Held();
          expect(isSame(held.follow(analysis), afresh.follow(fresh))).toBe(true);
          expect(held.summary).toBe(afresh.summary);
        }
      }),
      { numRuns: 25, seed: 3 },
    );
  });

  it('gives the sums of a fresh run after random edits in a program with a loop', () => {
    const edit = fc.record({ at: fc.nat(700), drop: fc.nat(2), text: line });
    const text = program(600).replace('M30', '#1=0\nWHILE [#1 LT 4] DO1\n#1=#1+1\nG1 X#1 F100\nM1\nY#1\nEND1\nM30');
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 4 }), (edits) => {
        const analysis = new Analysis(text);
        analysis.run();
        const held = new Held();
        held.follow(analysis);
        for (const { at, drop, text } of edits) {
          analysis.edit(at, 0, at + drop, 0, text);
          analysis.run();
          const fresh = new Analysis(analysis.text());
          fresh.run();
          const afresh = new Held();
          expect(isSame(held.follow(analysis), afresh.follow(fresh))).toBe(true);
          expect(held.summary).toBe(afresh.summary);
        }
      }),
      { numRuns: 20, seed: 4 },
    );
  });

  it('fetches one piece of a long program after a local edit', () => {
    const analysis = new Analysis(program(200_000));
    analysis.run();
    const held = new Held();
    held.follow(analysis);
    const all = held.fetched;
    expect(all).toBeGreaterThan(3);
    analysis.edit(100_000, 0, 100_001, 0, 'G1 X7.5 Y3.5\n');
    analysis.run();
    held.follow(analysis);
    expect(held.fetched).toBe(1);
  });
});
