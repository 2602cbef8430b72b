/** The drawing of what the path view shows: a plane of the whole file, without the kinds and tool sections left out there. */
import type { Analysis } from '../checks/analysis.ts';
import type { DrawnKind, PathDrawingRequest } from '../geometry/pathRequestDrawing.ts';
import type { Configuration } from '../machine/configuration.ts';
import { svgPieces } from './svg.ts';
import { type TracedMove, tracedMoves } from './trace.ts';
import { TraceSummary } from './traceSummary.ts';

/** What is drawn; `name` is that of the program's file. */
export type SeenDrawing = Omit<PathDrawingRequest, 'uri'> & { readonly name: string };

/** Moves between two chances for others. */
const SLICE = 20_000;

/**
 * The drawing as text in pieces, in two passes over the moves; an empty piece now and then is a chance to let others
 * work. The analysis must be up to date.
 */
export function* seenSvg(analysis: Analysis, configuration: Configuration, drawing: SeenDrawing): Generator<string> {
  const summary = new TraceSummary();
  let count = 0;
  for (const move of seenMoves(analysis, configuration, drawing)) {
    summary.add(move);
    if (++count % SLICE === 0) yield '';
  }
  const { name, plane, units } = drawing;
  const complete = analysis.stopped === undefined;
  const moves = seenMoves(analysis, configuration, drawing);
  yield* svgPieces({ name, plane, units, extents: summary.extents, complete }, moves);
}

/** The moves of all programs in the file that are not left out, each pass of a loop. */
function* seenMoves(
  analysis: Analysis,
  { machine, profile }: Configuration,
  { hiddenKinds = [], hiddenSections = [] }: SeenDrawing,
): Generator<TracedMove> {
  const kinds = new Set(hiddenKinds);
  const sections = new Set(hiddenSections);
  let section = -1;
  let tool: number | undefined;
  for (const move of tracedMoves(analysis, { helixFeed: profile.helixFeed, machine, firstLine: 0 })) {
    if (tool === undefined || !Object.is(move.tool, tool)) {
      tool = move.tool;
      section++;
    }
    if (!sections.has(section) && !kinds.has(drawnKind(move))) yield move;
  }
}

/** Below this a move does not go along an axis, mm: as the packed path has it. */
const SAME = 1e-9;

function drawnKind({ kind, from, to, plane }: TracedMove): DrawnKind {
  if (kind === 'rapid' || kind === 'dwell') return 'rapid';
  const [x, y, z] = [0, 1, 2].map((axis) => Math.abs(to[axis] - from[axis]) > SAME);
  if (kind === 'line') return z && !x && !y ? 'plunge' : 'cut';
  const rises = plane === 'XY' ? z : plane === 'ZX' ? y : x;
  return rises ? 'helix' : 'arc';
}
