// Tool sections on the pieces that are shown: which vertices belong to which, which of them are left out.
import type { PathPlace, PathSection } from '../../server/src/core/geometry/pathSummary.ts';
import type { ShownPiece } from './picture.ts';

/** From the way that leads to `from` on, a piece belongs to the section with this number. */
export interface SectionSpan {
  readonly from: number;
  readonly section: number;
}

/** What of a piece is left out: nothing, all, or the ways with a 1. */
export type Hidden = 'nothing' | 'all' | Uint8Array;

/** A name for each section that stays when something before it is edited: its tool, and the how manieth of that tool. */
export function sectionKeys(sections: readonly PathSection[]): string[] {
  const seen = new Map<number, number>();
  return sections.map(({ tool }) => {
    const count = (seen.get(tool.number) ?? 0) + 1;
    seen.set(tool.number, count);
    return `T${tool.number} ${count}`;
  });
}

/** The sections of each piece by its id, in the order of the run. Ways before the first section have none. */
export function sectionSpans(
  pieces: readonly ShownPiece[],
  sections: readonly PathSection[],
): ReadonlyMap<number, readonly SectionSpan[]> {
  const starts = new Map<number, SectionSpan[]>();
  sections.forEach(({ start }, section) => {
    const own = starts.get(start.piece) ?? [];
    // A section's first way starts at its vertex, so it leads to the next one.
    own.push({ from: start.vertex + 1, section });
    starts.set(start.piece, own);
  });
  const spans = new Map<number, readonly SectionSpan[]>();
  let current = -1;
  for (const { id } of pieces) {
    const own = starts.get(id) ?? [];
    spans.set(id, [{ from: 0, section: current }, ...own]);
    current = own.at(-1)?.section ?? current;
  }
  return spans;
}

/** What of a piece is left out where these sections are. */
export function hiddenWays({ path }: ShownPiece, spans: readonly SectionSpan[], hidden: ReadonlySet<number>): Hidden {
  const used = spans.filter(({ from }, i) => from < (spans[i + 1]?.from ?? path.vertexCount));
  const count = used.filter(({ section }) => hidden.has(section)).length;
  if (count === 0 || count === used.length) {
    return count === 0 ? 'nothing' : 'all';
  }
  const ways = new Uint8Array(path.vertexCount);
  spans.forEach(({ from, section }, i) => {
    if (hidden.has(section)) {
      ways.fill(1, from, spans[i + 1]?.from ?? path.vertexCount);
    }
  });
  return ways;
}

/** The section that the way to a vertex belongs to; −1 none. */
export function sectionOf(spans: ReadonlyMap<number, readonly SectionSpan[]>, { piece, vertex }: PathPlace): number {
  const before = spans.get(piece)?.filter(({ from }) => from <= vertex) ?? [];
  return before.at(-1)?.section ?? -1;
}
