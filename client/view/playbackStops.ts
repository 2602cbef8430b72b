// Where a playback stops by itself: at M0 and at a stop with a message (#3006) always, as the machine does; at tool changes and at M1 where that is switched on.
import type { PathSummary, PathTool } from '../../server/src/core/geometry/pathSummary.ts';

/** A place of the run where the machine stops or may stop. */
export interface RunStop {
  readonly kind: 'stop' | 'optional' | 'message' | 'toolChange';
  /** From 0. */
  readonly line: number;
  /** Second of the run. */
  readonly seconds: number;
  /** The tool that comes. */
  readonly tool?: PathTool;
}

/** Which of the stops count. */
export interface StopChoice {
  readonly atToolChanges: boolean;
  /** At M1. */
  readonly atOptional: boolean;
}

/** The stops of a run in its order. The first tool is there at the start: the run does not stop for it. */
export function stopsOf(summary: PathSummary | undefined, { atToolChanges, atOptional }: StopChoice): RunStop[] {
  if (!summary) {
    return [];
  }
  const changes = atToolChanges ? summary.sections.slice(1) : [];
  return [
    ...summary.stops.filter(({ kind }) => kind !== 'optional' || atOptional),
    ...changes.map(({ tool, firstLine: line, startSeconds: seconds }) => ({
      kind: 'toolChange' as const,
      line,
      seconds,
      tool,
    })),
  ].sort((a, b) => a.seconds - b.seconds || a.line - b.line);
}

/** The stops that come first behind a second, up to and with another one; several where they share their second. */
export function stopsBetween(stops: readonly RunStop[], from: number, to: number): RunStop[] {
  const first = stops.find(({ seconds }) => seconds > from + SAME_SECOND);
  return first && first.seconds <= to
    ? stops.filter(({ seconds }) => Math.abs(seconds - first.seconds) <= SAME_SECOND)
    : [];
}

/** Sums of many durations differ by their order; stops nearer to each other than this are at the same second. */
const SAME_SECOND = 1e-6;
