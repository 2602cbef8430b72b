/** What passes through lines that were executed before leave beside their moves: where their blocks begin and stop, and whose they are. */
import type { MoveTable } from '../machine/moves.ts';
import { type MoveOrigin, MoveOrigins } from './moveOrigins.ts';
import type { StopKind } from './stopLines.ts';

/** A block with a stop that a pass came to: the segment's moves before it, its line as the moves count it. */
export interface PassStop {
  readonly move: number;
  readonly line: number;
  readonly kind: StopKind;
}

/** As a segment keeps them; left out where there is nothing. */
export interface KeptNotes {
  /** Where moves come from that a called program's own file gave, packed (`moveOrigins.ts`). */
  readonly origins?: Float64Array;
  /** Moves, ascending, that begin a block anew though the move before them has the same line. */
  readonly again?: Uint32Array;
  readonly stops?: readonly PassStop[];
}

/** Gathers them while a segment is run. */
export class PassNotes {
  private readonly origins = new MoveOrigins();
  private readonly again: number[] = [];
  private readonly stops: PassStop[] = [];

  /** A block gave the moves behind the first `before`; `origin` where it is of another file. */
  block(moves: MoveTable, before: number, origin: MoveOrigin | undefined): void {
    if (moves.count === before) return;
    if (before > 0 && moves.lines[before] === moves.lines[before - 1]) this.again.push(before);
    if (origin !== undefined) this.origins.add(before, moves.count, origin);
  }

  stop(stop: PassStop): void {
    this.stops.push(stop);
  }

  kept(): KeptNotes {
    const origins = this.origins.packed();
    return {
      ...(origins && { origins }),
      ...(this.again.length > 0 && { again: Uint32Array.from(this.again) }),
      ...(this.stops.length > 0 && { stops: this.stops }),
    };
  }
}
