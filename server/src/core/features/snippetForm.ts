/** What a plain form with tab stops is, and how its stops are written. */
import { formatLength } from '../blocks/blockWriter.ts';

/** A plain form. */
export interface Snippet {
  /** What is typed to get it. */
  readonly prefix: string;
  readonly name: string;
  readonly description: string;
  /** The block whose plain form it is; left out where no block writes it. */
  readonly block?: string;
  /** Needs a control with loops, variables or subprograms. */
  readonly needsFlow?: boolean;
  readonly lines: (write: TabStops) => readonly string[];
}

/** Writes tab stops as the protocol and VS Code have them: the number where a stop comes first, then a copy of it. */
export class TabStops {
  readonly inch: boolean;
  /** M code that stands before a synchronised tapping cycle, −1 none. */
  readonly tappingCode: number;
  readonly #written = new Set<number>();

  constructor(inch: boolean, tappingCode: number) {
    this.inch = inch;
    this.tappingCode = tappingCode;
  }

  /** A stop with any text. */
  stop(place: number, text: string): string {
    if (this.#written.has(place)) return `$${place}`;
    this.#written.add(place);
    return `\${${place}:${text}}`;
  }

  /** A stop with a length in mm, written in the program's units. */
  length(place: number, value: number): string {
    return this.stop(place, formatLength(this.inch ? value / 25.4 : value, this.inch));
  }

  /** A stop with a feed in mm/min, written in the program's units. */
  feed(place: number, value: number): string {
    return this.stop(place, formatLength(this.inch ? Number((value / 25.4).toPrecision(4)) : value, this.inch));
  }
}
