import { describe, expect, it } from 'vitest';
import { createPackedPath, PathStyle, STYLE_BITS } from '../../server/src/core/geometry/packedLayout.ts';
import type { PathSection } from '../../server/src/core/geometry/pathSummary.ts';
import { litPlace } from './litPlace.ts';
import { pick } from './pick.ts';
import type { ShownPiece } from './picture.ts';
import { hiddenWays, sectionKeys, sectionOf, sectionSpans } from './toolSections.ts';

/** A piece along X, a vertex each 10 mm on these lines; a negative number is a place that no line leads to. */
function pieceOf(id: number, lines: readonly number[]): ShownPiece {
  const path = createPackedPath(lines.length, 0);
  lines.forEach((line, i) => {
    path.positions.set([i * 10, 0, 0], i * 3);
    path.codes[i] = (Math.abs(line) << STYLE_BITS) | (line < 0 || i === 0 ? PathStyle.none : PathStyle.cut);
  });
  path.bounds.set([0, 0, 0, lines.length * 10, 0, 0]);
  return { id, firstLine: 0, path, startSeconds: 0, seconds: 0 };
}

const section = (number: number, piece: number, vertex: number): PathSection => ({
  tool: { number, description: '' },
  firstLine: 0,
  start: { piece, vertex },
  startSeconds: 0,
  seconds: 0,
  cutLength: 0,
  rapidLength: 0,
});

const pieces = [pieceOf(5, [0, 1, 2, 3]), pieceOf(8, [4, 5, 6]), pieceOf(6, [7, 8, 9, 10])];
const sections = [section(1, 5, 1), section(2, 6, 0), section(1, 6, 2)];
const spans = sectionSpans(pieces, sections);

describe('tool sections', () => {
  it('are named by their tool and how often it has come', () => {
    expect(sectionKeys(sections)).toEqual(['T1 1', 'T2 1', 'T1 2']);
  });

  it('go on through the pieces until the next one', () => {
    const of = (piece: number, vertex: number): number => sectionOf(spans, { piece, vertex });
    expect([of(5, 0), of(5, 1), of(5, 2), of(5, 3)]).toEqual([-1, -1, 0, 0]);
    expect([of(8, 0), of(8, 2)]).toEqual([0, 0]);
    expect([of(6, 1), of(6, 2), of(6, 3)]).toEqual([1, 1, 2]);
    expect(of(77, 0)).toBe(-1);
  });

  it('leave out the ways that belong to them, and no other', () => {
    const hide = (...hidden: number[]) =>
      pieces.map((piece) => hiddenWays(piece, spans.get(piece.id) ?? [], new Set(hidden)));
    expect(hide()).toEqual(['nothing', 'nothing', 'nothing']);
    expect(hide(0)).toEqual([Uint8Array.of(0, 0, 1, 1), 'all', Uint8Array.of(1, 0, 0, 0)]);
    expect(hide(2)).toEqual(['nothing', 'nothing', Uint8Array.of(0, 0, 0, 1)]);
  });

  it('cannot be picked while they are left out, nor can a kind of line', () => {
    const view = { view: 'top', target: [0, 0, 0], scale: 1, azimuth: 0, elevation: 0 } as const;
    const picked = (ways: Uint8Array | 'all', kinds = -1) =>
      pick([pieces[0]], view, { width: 100, height: 100 }, 67, 50, 8, () => ({ kinds, hidden: ways }))?.vertex;
    expect(picked(Uint8Array.of(0, 0, 0, 0))).toBe(2);
    expect(picked(Uint8Array.of(0, 0, 1, 0))).toBe(3);
    expect(picked('all')).toBeUndefined();
    expect(picked(Uint8Array.of(0, 0, 0, 0), ~(1 << PathStyle.cut))).toBeUndefined();
  });
});

describe('the end of the lit block', () => {
  it('is that of the last lit line that moves', () => {
    expect(litPlace(pieces, { first: 2, last: 2 })).toEqual({ piece: 5, vertex: 2, at: [20, 0, 0] });
    expect(litPlace(pieces, { first: 1, last: 6 })).toMatchObject({ piece: 8, vertex: 2 });
    expect(litPlace(pieces, { first: 50, last: 60 })).toBeUndefined();
    expect(litPlace(pieces, { first: 1, last: 0 })).toBeUndefined();
  });

  it('is behind all chords of an arc, but in a loop on the first pass', () => {
    const loop = [pieceOf(1, [0, 3, 3, 3, 4, 3, 3, 4])];
    expect(litPlace(loop, { first: 3, last: 3 })?.vertex).toBe(3);
    expect(litPlace(loop, { first: 4, last: 4 })?.vertex).toBe(4);
    expect(litPlace([pieceOf(1, [0, 3, -3, 4])], { first: 3, last: 3 })?.vertex).toBe(1);
  });
});
