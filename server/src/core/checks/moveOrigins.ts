/**
 * Which line of a called program's own file gave which moves. Packed as numbers: such a program may be called in a loop a
 * million times.
 */

/** Where a move comes from that a called program's own file gave. */
export interface MoveOrigin {
  /** Number of the program that ran, and the number that its file was found by. */
  readonly program: number;
  readonly file: number;
  /** Line of that file, from 0. */
  readonly line: number;
}

/** Numbers for each line that moved: its moves [from, to), program, file, line. */
const WIDTH = 5;

/** Gathers the origins of one segment's moves, in their order. */
export class MoveOrigins {
  private readonly rows: number[] = [];

  /** The moves [from, to) come from there. */
  add(from: number, to: number, { program, file, line }: MoveOrigin): void {
    this.rows.push(from, to, program, file, line);
  }

  /** As a segment keeps them; undefined where no other file gave a move. */
  packed(): Float64Array | undefined {
    return this.rows.length > 0 ? Float64Array.from(this.rows) : undefined;
  }
}

/** Where a move comes from; undefined where the program's own lines gave it. */
export function originOfMove(origins: Float64Array | undefined, move: number): MoveOrigin | undefined {
  if (origins === undefined) return undefined;
  let low = 0;
  let high = origins.length / WIDTH;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (origins[middle * WIDTH + 1] <= move) low = middle + 1;
    else high = middle;
  }
  const at = low * WIDTH;
  if (at >= origins.length || origins[at] > move) return undefined;
  return { program: origins[at + 2], file: origins[at + 3], line: origins[at + 4] };
}
