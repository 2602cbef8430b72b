/**
 * Finds loops that never end: what decides the way on is compared, at a loop's head, with what it was there at the 1st,
 * 2nd, 4th, 8th … pass. What comes again comes for ever. Only variables decide, until the program reads one of the
 * control's own, which may hold a position or a mode: then the whole machine is compared. A repetition is found at the
 * latest after three times the passes that lead into it and make it up.
 */
import type { VariableName, Variables } from '../../syntax/variables.ts';
import type { FlowChunk, Frame, Spot } from './places.ts';

/** What decides the way on, as it stands at a loop's head. */
export interface HeadState {
  /** Id of the modes, or of those alone that decide. */
  readonly modes: number;
  /** Empty where positions decide nothing. */
  readonly position: Float64Array;
  readonly variables: Variables;
}

interface Head {
  readonly spot: Spot;
  passes: number;
  compareWith: { modes: number; position: Float64Array; variables: ReadonlyMap<VariableName, number> } | undefined;
  nextNote: number;
}

const sameState = (known: NonNullable<Head['compareWith']>, state: HeadState): boolean => {
  if (known.modes !== state.modes) return false;
  if (known.position.length !== state.position.length) return false;
  for (let axis = 0; axis < state.position.length; axis++) {
    if (!Object.is(known.position[axis] + 0, state.position[axis] + 0)) return false;
  }
  return state.variables.decideAlike(known.variables);
};

/** See the top of the file. */
export class LoopWatch {
  private readonly times = new Map<FlowChunk, Map<number, number>>();
  private readonly heads = new Map<Frame | undefined, Map<FlowChunk, Map<number, Head>>>();

  /** The run comes back to a line. Returns the number of its pass where everything stands as it did before, else 0. */
  comesBack(spot: Spot, frame: Frame | undefined, state: HeadState): number {
    const head = this.headAt(spot, frame);
    head.passes++;
    if (spot.source.isMain) this.count(spot);
    if (head.compareWith !== undefined && sameState(head.compareWith, state)) return head.passes;
    if (head.passes >= head.nextNote) {
      head.nextNote *= 2;
      const { modes, position, variables } = state;
      head.compareWith = { modes, position: Float64Array.from(position), variables: variables.snapshot() };
    }
    return 0;
  }

  /** How often the run came back to a line of the program itself, in all calls together. */
  timesAt(chunk: FlowChunk, line: number): number {
    return this.times.get(chunk)?.get(line) ?? 0;
  }

  /** Lines of a chunk were inserted or taken away. */
  shiftLines(chunk: FlowChunk, from: number, grown: number): void {
    const old = this.times.get(chunk);
    if (old === undefined) return;
    this.times.set(chunk, new Map(Array.from(old, ([line, times]) => [line < from ? line : line + grown, times])));
  }

  private count({ chunk, line }: Spot): void {
    let byLine = this.times.get(chunk);
    if (byLine === undefined) {
      byLine = new Map();
      this.times.set(chunk, byLine);
    }
    byLine.set(line, (byLine.get(line) ?? 0) + 1);
  }

  /** A call returned: its loops are over. */
  forget(frame: Frame): void {
    this.heads.delete(frame);
  }

  /** The line that was come back to most often, for a run that was cut off; undefined where there is none. */
  busiest(): { readonly spot: Spot; readonly passes: number } | undefined {
    let most: Head | undefined;
    for (const byChunk of this.heads.values()) {
      for (const byLine of byChunk.values()) {
        for (const head of byLine.values()) if (most === undefined || head.passes > most.passes) most = head;
      }
    }
    return most;
  }

  private headAt(spot: Spot, frame: Frame | undefined): Head {
    let byChunk = this.heads.get(frame);
    if (byChunk === undefined) {
      byChunk = new Map();
      this.heads.set(frame, byChunk);
    }
    let byLine = byChunk.get(spot.chunk);
    if (byLine === undefined) {
      byLine = new Map();
      byChunk.set(spot.chunk, byLine);
    }
    let head = byLine.get(spot.line);
    if (head === undefined) {
      head = { spot, passes: 0, compareWith: undefined, nextNote: 1 };
      byLine.set(spot.line, head);
    }
    return head;
  }
}
