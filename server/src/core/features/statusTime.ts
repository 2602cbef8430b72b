/** How long a program takes, and how long until a line, by the nominal times of the path. Summed once a segment, so that an edit costs its own part only. */
import type { Analysis } from '../checks/analysis.ts';
import type { Segment } from '../checks/segment.ts';
import type { Configuration } from '../machine/configuration.ts';
import { EXTRA_WIDTH } from '../machine/moves.ts';
import { PathClock } from './pathClock.ts';

/** Seconds of all moves and waits; moves whose feed is not known count none. */
export interface ProgramTime {
  readonly seconds: number;
  /** Until the run comes to the line for the first time; NaN where it never does. */
  readonly secondsBefore: number;
  /** Moves at feed whose feed is not known. */
  readonly untimed: number;
}

interface Sum {
  seconds: number;
  untimed: number;
}

/** Segments summed up without a pause. */
const BATCH = 64;

/** Sums of segments, which never change once they were run; a configuration has its own, since rapids may differ. */
const sums = new WeakMap<Configuration, WeakMap<Segment, Sum>>();

/** Adds up the whole run in steps, for long programs: pauses now and then. The analysis must be up to date. */
export function* programTime(
  analysis: Analysis,
  configuration: Configuration,
  line: number,
): Generator<undefined, ProgramTime> {
  const { machine, profile } = configuration;
  const clock = new PathClock(analysis.modePool, { machine, helixFeed: profile.helixFeed });
  const known = sums.get(configuration) ?? new WeakMap<Segment, Sum>();
  sums.set(configuration, known);
  let seconds = 0;
  let untimed = 0;
  let secondsBefore = Number.NaN;
  let fresh = 0;
  for (const { segment, firstLine } of analysis.passages()) {
    let sum = known.get(segment);
    if (sum === undefined) {
      sum = sumOf(segment, clock, Number.POSITIVE_INFINITY);
      known.set(segment, sum);
      if (++fresh % BATCH === 0) yield undefined;
    }
    const isHere = segment.pass === 1 && firstLine <= line && line < firstLine + segment.blockCount;
    if (isHere) secondsBefore = seconds + sumOf(segment, clock, line - firstLine).seconds;
    seconds += sum.seconds;
    untimed += sum.untimed;
  }
  return { seconds, secondsBefore, untimed };
}

/** The moves of the lines before `line`, as the segment counts them. */
function sumOf({ moves, entry }: Segment, clock: PathClock, line: number): Sum {
  const sum = { seconds: 0, untimed: 0 };
  let row = 0;
  for (let move = 0; move < moves.count && moves.lines[move] < line; move++) {
    const extra = row < moves.extraCount && moves.extraMoves[row] === move ? row++ * EXTRA_WIDTH : -1;
    clock.measure(moves, move, extra, entry.position);
    if (Number.isFinite(clock.seconds)) sum.seconds += clock.seconds;
    else if (clock.length > 0) sum.untimed++;
  }
  return sum;
}
