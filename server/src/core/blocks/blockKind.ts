/** What a kind of block is: its name, its parameters, and how it is computed. */
import type { Parameter, RawValues } from './parameter.ts';
import type { BlockPlan, WriteBody } from './plan.ts';
import type { Values } from './values.ts';

/** A kind of block. */
export interface BlockKind {
  /** As on the command line and in markers: `helical-bore`. */
  readonly name: string;
  /** "Helical bore". */
  readonly title: string;
  /** One sentence: what it does. */
  readonly summary: string;
  /** What is typed in the program to get its form: `helical`. */
  readonly prefix: string;
  readonly parameters: readonly Parameter[];
  /**
   * True for parts of a program (start, end, subprogram) that are written as they are: no marker, no safe level, nothing put
   * back, and no check that they restore modes.
   */
  readonly isPart?: boolean;
  /** True where some values make such a part of a block that is none otherwise. */
  isPartWith?(raw: RawValues): boolean;
  /**
   * Computes the block into the plan: facts, words, problems, cautions, limits of the cutter's centre. Returns how to write
   * what stands between the modes at its head and the way up at its end; undefined where problems keep it from that.
   */
  plan(values: Values, plan: BlockPlan): WriteBody | undefined;
}
