/** Where on the path a finding is marked: where its line's last move ends, or else where the machine stands before it. */
import type { PathFinding } from '../core/geometry/pathRequest.ts';
import { Mode } from '../core/machine/modes.ts';
import type { PathSource } from './pathPieces.ts';

/** What the marks need of an analysis. */
export interface FindingSource {
  findings(): {
    readonly findings: readonly {
      readonly line: number;
      readonly severity: 'error' | 'warning' | 'hint';
      readonly message: string;
    }[];
    readonly more: Readonly<Record<string, number>>;
  };
  readonly runsStraight: boolean;
  chunkOfLine(line: number): number;
  stateAfter(line: number): { readonly position: Float64Array };
}

/** More marks than this hide the path; the rest is counted. */
const MAX_MARKS = 200;

/** The findings with their places; those without one, and those above 200, are counted. */
export function placedFindings(source: PathSource & FindingSource): { findings: PathFinding[]; unplaced: number } {
  const { findings, more } = source.findings();
  let unplaced = Object.values(more).reduce((sum, count) => sum + count, 0);
  const placed: PathFinding[] = [];
  for (const { line, severity, message } of findings) {
    if (placed.length >= MAX_MARKS) {
      unplaced += findings.length - placed.length;
      break;
    }
    const [x, y, z] = placeOf(source, line);
    if (Number.isFinite(x + y + z)) placed.push({ line, severity, message, x, y, z });
    else unplaced++;
  }
  return { findings: placed, unplaced };
}

/** Where the machine stands behind a line. Read off the moves where the chunk ran straight through; else executed. */
function placeOf(source: PathSource & FindingSource, line: number): Float64Array {
  const index = source.runsStraight ? source.chunkOfLine(line) : 0;
  const chunk = source.chunks[index];
  const [segment] = chunk.segments;
  if (!source.runsStraight || chunk.segments.length !== 1) return source.stateAfter(line).position;
  const inside = line - source.chunkFirstLine(index);
  const { lines, ends, count } = segment.moves;
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (lines[middle] <= inside) low = middle + 1;
    else high = middle;
  }
  return low === 0 ? segment.entry.position : ends.subarray(low * 3 - 3, low * 3);
}

/** True if the program's first move is programmed in inches. */
export function programIsInch(source: PathSource): boolean {
  for (const { segments } of source.chunks) {
    for (const { moves } of segments) {
      if (moves.count > 0) return source.modePool.at(moves.modes[0], Mode.units) === 20;
    }
  }
  return false;
}
