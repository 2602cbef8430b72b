/** What a generator answers: what it computed, what does not work, and how to write it. */

import type { BlockWriter } from './blockWriter.ts';
import type { BlockContext } from './context.ts';
import type { ParameterUnit, Place, Problem } from './parameter.ts';
import { inchFactor, short, unitName } from './readValues.ts';

/** A computed value that stands beside the form. */
export interface BlockFact {
  readonly name: string;
  readonly label: string;
  /** With its unit, in the program's units. */
  readonly text: string;
}

/**
 * A cylinder that the cutter's centre must stay inside, or outside, of while it is below a level; mm. Checked on the executed
 * path: each move must be inside one of several.
 */
export interface CentreLimit {
  readonly centre: Place;
  readonly radius: number;
  readonly side: 'inside' | 'outside';
  /** Z below which it holds. */
  readonly below: number;
}

/** The same with a rectangle of rounded corners, turned about its centre; mm, degrees counter-clockwise. */
export interface ContourLimit {
  readonly centre: Place;
  readonly halfLength: number;
  readonly halfWidth: number;
  readonly corner: number;
  readonly angle: number;
  readonly side: 'inside' | 'outside';
  readonly below: number;
}

/**
 * What a generator gathers while it computes. Facts are shown even where problems keep the block from being written, so a
 * generator goes on as far as it can.
 */
export class BlockPlan {
  readonly problems: Problem[] = [];
  /** Words of caution about a value; the block can be had all the same. */
  readonly words: Problem[] = [];
  readonly facts: BlockFact[] = [];
  /** Remark lines at the head of the block: upper case, plain letters. */
  readonly cautions: string[] = [];
  readonly limits: (CentreLimit | ContourLimit)[] = [];
  /** Highest level at which the block may end, where it must be higher than `retract`; mm. */
  endHeight: number | undefined;
  /** Lowest Z that the tip may reach, mm; checked on the executed path. */
  lowest: number | undefined;
  /** Coolant that the block runs with, where it cannot be the one given or the program's: `none`. */
  coolant: string | undefined;
  /** Lines that stand behind the program's end and that the block calls; it is executed with them. */
  readonly behind: string[] = [];
  readonly context: BlockContext;

  constructor(context: BlockContext) {
    this.context = context;
  }

  get inch(): boolean {
    return this.context.entry.units === 'inch';
  }

  /** A value keeps the block from being written: which limit, by how much, what would work. */
  problem(parameter: string | undefined, message: string): void {
    this.problems.push({ parameter, message });
  }

  /** A value is taken with a word of caution. */
  word(parameter: string | undefined, message: string): void {
    this.words.push({ parameter, message });
  }

  /** A computed value; a number is in mm (mm/min …) and shown in the program's units. */
  fact(name: string, label: string, value: number | string, unit: ParameterUnit = '', places?: number): void {
    const text = typeof value === 'string' ? value : this.say(value, unit, places);
    this.facts.push({ name, label, text });
  }

  /** A number with its unit in the program's units, for facts and messages: "12.5 mm" or "0.4921 in". */
  say(value: number, unit: ParameterUnit = 'mm', places?: number): string {
    const factor = this.inch ? inchFactor(unit) : 1;
    const decimals =
      places ?? (unit === 'mm' || unit === 'mm/tooth' ? (this.inch ? 4 : 3) : unit === 'rev/min' ? 0 : 1);
    const number = short(value / factor, decimals);
    return unit === '' ? number : unit === '°' ? `${number}°` : `${number} ${unitName(unit, this.inch)}`;
  }

  /** A remark at the head of the block. Letters that no control takes are left to the writer to refuse. */
  caution(...lines: readonly string[]): void {
    this.cautions.push(...lines);
  }
}

/** Writes the blocks between the opening and the closing remark. */
export type WriteBody = (writer: BlockWriter) => void;
