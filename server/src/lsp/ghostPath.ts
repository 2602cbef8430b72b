/** The layer `ghost`: the part of the path that changes of the text would make another one, or that of lines put in. One piece, or none. */
import { blockGhost } from '../core/blocks/blockGhost.ts';
import { type BlockContext, contextAt } from '../core/blocks/context.ts';
import { Analysis } from '../core/checks/analysis.ts';
import type { GhostPath } from '../core/checks/repair/ghost.ts';
import {
  type GhostEdit,
  INDEX_CHUNK,
  type InsertedLines,
  type PathIndex,
  type PathRequest,
} from '../core/geometry/pathRequest.ts';
import type { Configuration } from '../core/machine/configuration.ts';
import { programIsInch } from './pathFindings.ts';
import { PathPieces, type PathSource } from './pathPieces.ts';

/** What the ghost needs of an analysis. Lines can be put into a whole `Analysis` only. */
export interface GhostSource {
  /** Undefined while the text is not up to date. */
  readonly arcRepairs: { ghost(edits: readonly GhostEdit[]): GhostPath | undefined } | undefined;
}

/**
 * The list of pieces (`chunk` −1: one with id 1, or none) or the piece of the changed part of the path. Empty where
 * nothing changes.
 */
export function packGhost(
  analysis: PathSource & Partial<GhostSource>,
  request: PathRequest,
  version: number,
  configuration?: Configuration,
): ArrayBuffer {
  const source = ghostSource(analysis, request, version, configuration);
  const pieces = new PathPieces();
  const list = source ? pieces.list(source) : [];
  if (request.chunk === INDEX_CHUNK) {
    const index: PathIndex = { version, inch: programIsInch(analysis), pieces: list, findings: [], unplaced: 0 };
    return new TextEncoder().encode(JSON.stringify(index)).buffer;
  }
  return (source && pieces.pack(source, request.chunk)) ?? new ArrayBuffer(0);
}

interface LastInserted {
  readonly place: string;
  readonly context: BlockContext;
  readonly lines: string;
  readonly source: PathSource | undefined;
}

/**
 * The last lines of each program whose path was asked for: the list and its one piece are asked for one after the other, and
 * other lines at the same place follow, whose context reads the whole text.
 */
const lastInserted = new WeakMap<Analysis, LastInserted>();

const insertedSource = (
  analysis: Analysis,
  inserted: InsertedLines,
  version: number,
  configuration: Configuration,
): PathSource | undefined => {
  const { line, replaced } = inserted;
  const place = `${version} ${line} ${replaced}`;
  const lines = inserted.lines.join('\n');
  const last = lastInserted.get(analysis);
  if (last?.place === place && last.lines === lines) return last.source;
  const context = last?.place === place ? last.context : contextAt(analysis, line, configuration, replaced);
  const ghost = blockGhost(analysis, inserted, context);
  const source = ghost && sourceOf(ghost.path, ghost.modePool);
  lastInserted.set(analysis, { place, context, lines, source });
  return source;
};

const ghostSource = (
  analysis: PathSource & Partial<GhostSource>,
  { edits, inserted }: PathRequest,
  version: number,
  configuration: Configuration | undefined,
): PathSource | undefined => {
  if (inserted !== undefined) {
    const canRun = analysis instanceof Analysis && configuration !== undefined;
    return canRun ? insertedSource(analysis, inserted, version, configuration) : undefined;
  }
  const ghost = analysis.arcRepairs?.ghost(edits ?? []);
  return ghost && sourceOf(ghost, analysis.modePool);
};

const sourceOf = ({ firstLine, lineCount, entry, moves }: GhostPath, modePool: PathSource['modePool']): PathSource => ({
  chunks: [{ version: 1, lineCount, segments: [{ entry, moves }] }],
  chunkFirstLine: () => firstLine,
  modePool,
});
