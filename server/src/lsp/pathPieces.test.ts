// The view keeps pieces by id: after any edit, what it has and what it fetches must be what a fresh run gives.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Analysis } from '../core/checks/analysis.ts';
import { PathStyle, readPackedPath, STYLE_BITS } from '../core/geometry/packedLayout.ts';
import { INDEX_CHUNK, type PathIndex } from '../core/geometry/pathRequest.ts';
import { packChunkFor } from './pathHandover.ts';

const ask = (chunk: number) => ({ uri: 'u', version: 0, chunk, layer: 'program' as const });

/** The pieces that a view holds. */
class Held {
  readonly pieces = new Map<number, ArrayBuffer>();
  fetched = 0;

  /** Fetches what is missing; gives the drawn ways as text: line, style, end point. */
  follow(analysis: Analysis): string[] {
    const index: PathIndex = JSON.parse(new TextDecoder().decode(packChunkFor(analysis, ask(INDEX_CHUNK))));
    this.fetched = 0;
    return index.pieces.flatMap(({ id, firstLine }) => {
      if (!this.pieces.has(id)) {
        this.pieces.set(id, packChunkFor(analysis, ask(id)));
        this.fetched++;
      }
      const { codes, positions, origin } = readPackedPath(this.pieces.get(id)!)!;
      return [...codes].flatMap((code, i) => {
        if ((code & 15) === PathStyle.none) return [];
        const at = [0, 1, 2].map((axis) =>
          (positions[i * 3 + axis] + origin[axis]).toFixed(3).replace('-0.000', '0.000'),
        );
        return [`${firstLine + (code >>> STYLE_BITS)} ${code & 15} ${at.join(' ')}`];
      });
    });
  }
}

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
          expect(held.follow(analysis)).toEqual(new Held().follow(fresh));
        }
      }),
      { numRuns: 25 },
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
