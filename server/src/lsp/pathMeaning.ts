/** What the numbers of the moves mean for the path that the view draws. */
import { isCut, isThread, PathClock } from '../core/features/pathClock.ts';
import { RowBit, RowField, UNKNOWN_TOOL } from '../core/geometry/packedLayout.ts';
import type { PathMeaning } from '../core/geometry/packedPath.ts';
import { Treatment } from '../core/geometry/pathMoves.ts';
import type { Configuration } from '../core/machine/configuration.ts';
import { Mode, type ModePool } from '../core/machine/modes.ts';
import { MoveFlag, MoveKind } from '../core/machine/moves.ts';

/** What the kinds of moves mean for the path. */
export const TREATMENTS = new Uint8Array(256).map((_, kinds) => {
  const kind = kinds & MoveFlag.kindMask;
  if (kind === MoveKind.rapid) return Treatment.rapid;
  if (kind === MoveKind.line) return Treatment.line;
  if (kind === MoveKind.arc) return Treatment.arc;
  return kind === MoveKind.renamed ? Treatment.renamed : Treatment.hold;
});

/** The clock that a program's moves are timed by. */
export const clockOf = (pool: Pick<ModePool, 'at'>, { machine, profile }: Configuration): PathClock =>
  new PathClock(pool, { machine, helixFeed: profile.helixFeed });

/** The meaning of moves that refer to the sets of modes in `pool`. */
export function meaningOf(pool: Pick<ModePool, 'at'>, clock: PathClock, assumedAxes: number): PathMeaning {
  return {
    treatments: TREATMENTS,
    assumedAxes,
    rowKinds: MoveFlag.kindMask | MoveFlag.cycle | MoveFlag.synchronised,
    plane: (modes) => pool.at(modes, Mode.plane),
    hasOwnFeed: (modes, kinds) => isCut(kinds) && (isThread(kinds) || pool.at(modes, Mode.feedMode) === 93),
    ownFeed: (moves, move, extra, entry) => {
      clock.measure(moves, move, extra, entry);
      return clock.feed;
    },
    fillRow: (row, modes, kind, pass) => {
      const at = (field: number): number => pool.at(modes, field);
      const tool = at(Mode.tool);
      const feed = at(Mode.feed) < 0 ? Number.NaN : at(Mode.feed);
      row[RowField.tool] = tool < 0 ? UNKNOWN_TOOL : tool;
      row[RowField.speed] = clock.speed(modes);
      row[RowField.feed] = at(Mode.feedMode) === 95 ? feed * clock.speed(modes) : feed;
      row[RowField.offset] = at(Mode.offset);
      row[RowField.pass] = pass > 1 ? 2 : 1;
      row[RowField.bits] = bitsOf(at, kind);
    },
  };
}

function bitsOf(at: (field: number) => number, kind: number): number {
  const spindle = at(Mode.spindle);
  return (
    (spindle === 3 || spindle === 4 ? RowBit.spindle : 0) |
    (at(Mode.coolant) > 0 ? RowBit.coolant : 0) |
    ((kind & MoveFlag.cycle) !== 0 ? RowBit.cycle : 0) |
    ((kind & MoveFlag.synchronised) !== 0 ? RowBit.synchronised : 0) |
    (at(Mode.radiusCompensation) === 41 || at(Mode.radiusCompensation) === 42 ? RowBit.compensated : 0)
  );
}
