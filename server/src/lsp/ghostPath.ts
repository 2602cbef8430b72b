/** The layer `ghost`: the part of the path that changes of the text would make another one. One piece, or none. */
import type { GhostPath } from '../core/checks/repair/ghost.ts';
import { type GhostEdit, INDEX_CHUNK, type PathIndex, type PathRequest } from '../core/geometry/pathRequest.ts';
import { programIsInch } from './pathFindings.ts';
import { PathPieces, type PathSource } from './pathPieces.ts';

/** What the ghost needs of an analysis. */
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
): ArrayBuffer {
  const ghost = analysis.arcRepairs?.ghost(request.edits ?? []);
  const pieces = new PathPieces();
  const source = ghost && sourceOf(ghost, analysis.modePool);
  const list = source ? pieces.list(source) : [];
  if (request.chunk === INDEX_CHUNK) {
    const index: PathIndex = { version, inch: programIsInch(analysis), pieces: list, findings: [], unplaced: 0 };
    return new TextEncoder().encode(JSON.stringify(index)).buffer;
  }
  return (source && pieces.pack(source, request.chunk)) ?? new ArrayBuffer(0);
}

const sourceOf = ({ firstLine, lineCount, entry, moves }: GhostPath, modePool: PathSource['modePool']): PathSource => ({
  chunks: [{ version: 1, lineCount, segments: [{ entry, moves }] }],
  chunkFirstLine: () => firstLine,
  modePool,
});
