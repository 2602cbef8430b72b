/**
 * What a rule is: a declaration (code, severity, reason, messages) and the functions that hear of the faults and events
 * it judges. The executor finds what it must know anyway (an arc that does not close) and raises it as a fault under the
 * rule's code; everything else is an event that rules subscribe to.
 */

import type { ArcFacts } from '../machine/arcFacts.ts';
import type { Configuration, TapHolder, ToolRow } from '../machine/configuration.ts';
import type { ControlProfile } from '../machine/profile.ts';
import type { Block } from '../syntax/block.ts';
import type { Fact, ProgramFacts, ProgramReport } from './facts.ts';

/** How bad a finding is. */
export type Severity = 'error' | 'warning' | 'hint';

/** An exact change of text in one line; columns are 0-based UTF-16 columns, `endColumn` exclusive. Lines count from the finding's own line (0). */
export interface FixEdit {
  readonly lineOffset: number;
  readonly column: number;
  readonly endColumn: number;
  readonly text: string;
  /** True where the line goes with its line end: it ends where the next one begins, whatever `endColumn` says. */
  readonly wholeLine?: true;
}

/** A repair that can be taken as it is. */
export interface Fix {
  readonly title: string;
  /** True if it changes nothing but what is surely wrong, so that the command line may apply it by itself. */
  readonly safe: boolean;
  readonly edits: readonly FixEdit[];
}

/** Values for a message's placeholders. Numbers are printed short, with a point, at most four decimals. */
export type MessageData = Readonly<Record<string, string | number>>;

/** What a rule's function is given about the place it judges. Valid only during the call. */
export interface RuleContext {
  /** The block as read. */
  readonly block: Block;
  readonly profile: ControlProfile;
  /** Modes after the codes of the block took effect (fields of `Mode`), positions NaN where unknown. */
  readonly modes: Float64Array;
  /** Modes before the block. */
  readonly before: Float64Array;
  /** The string behind an id in the modes (tool remark, operation remark). */
  string(id: number): string;
  /** The row of the tool table for a tool number. */
  toolRow(tool: number): ToolRow | undefined;
  /** The holder that the shop assumes for taps whose own is not known. */
  readonly assumedHolder: TapHolder['kind'] | undefined;
  /** Millimetres a unit of the program (1 or 25.4). */
  readonly unit: number;
  /** What the program is judged under: machine, stock, material, tools, limits. */
  readonly configuration: Configuration;
  /** Work position of X Y Z A B C U V W as it is now (mm, degrees, NaN unknown): before the block's motion in `codes`, `rapid` and `home`, behind it in `cut`, `cycle` and `block`. */
  readonly position: Float64Array;
  /** Where the motion leads, in `rapid` and `home` (there the intermediate point). */
  readonly target: Float64Array;
  /** Motion mode (G number × 10) before the block; valid in `rapid`. */
  readonly motionBefore: number;
  /** Notes a bit of `Given` in the state of the run, or takes bits back. */
  give(bit: number): void;
  takeBack(bits: number): void;
  /** Takes bits of `LeftOver` back, or notes them. */
  settle(bits: number): void;
  noteLeftOver(bits: number): void;
  /** Adds a fact about the whole block. */
  addBlockFact(kind: Fact['kind'], a?: number, b?: number, text?: string): void;
  /** Reports at offsets of the block's source. */
  report(message: string, start: number, end: number, data?: MessageData, fixes?: readonly Fix[]): void;
  /** Makes a fix that replaces the text between two offsets of the block's source. */
  replace(title: string, safe: boolean, ...changes: { start: number; end: number; text: string }[]): Fix;
}

/** A fault as raised by the reader or the executor. */
export interface Fault {
  readonly message: string;
  readonly start: number;
  readonly end: number;
  readonly data: MessageData;
  /** Index of the word in the block that it is about, −1 none. */
  readonly word: number;
}

/** The events a rule may subscribe to. */
export interface RuleEvents {
  /** A fault raised under this rule's own code. Without this function the fault is reported as it is. */
  fault?(context: RuleContext, fault: Fault, arc: ArcFacts | undefined): void;
  /**
   * A block with codes, T, S, H, D or a remark, after they took effect, before its motion. Not called for blocks whose
   * only code is one of G0 G1 G2 G3.
   */
  codes?(context: RuleContext): void;
  /** An arc that was executed without fault. */
  arc?(context: RuleContext, arc: ArcFacts): void;
  /** A cycle that drills a hole (once a block). */
  cycle?(context: RuleContext): void;
  /** A rapid straight out of a hole that the cut before it went straight into. */
  rapidOut?(context: RuleContext): void;
  /** A block of rapid motion (G0), before it moves. */
  rapid?(context: RuleContext): void;
  /** G28 or G30, before it moves; `target` is the intermediate point (the position where no axis is named). */
  home?(context: RuleContext): void;
  /** A block that cuts at feed (line, arc or cycle), after it moved. */
  cut?(context: RuleContext): void;
  /**
   * The first block that cuts at feed since the program's start, a tool change, a tapping cycle, a change of units or the
   * way home in G91; after it moved.
   */
  firstCut?(context: RuleContext): void;
  /** Any block with text. Expensive: at most three rules may. */
  block?(context: RuleContext): void;
}

/** Facts of one segment that rules which look across the program read. See `facts.ts`. */
export interface ProgramRule {
  /** Judges the program's facts; called again only where facts changed. */
  program?(facts: ProgramFacts, report: ProgramReport): void;
}

/** A rule: its declaration and its functions. */
export interface Rule extends RuleEvents, ProgramRule {
  readonly code: string;
  readonly severity: Severity;
  /** The severity under `rs274ngc`, where it differs. */
  readonly strictSeverity?: Severity;
  /** One sentence: why it hurts. */
  readonly reason: string;
  /** Message texts by id, placeholders as `{name}`. At most two sentences: what is wrong with the numbers that decide, and what to do. */
  readonly messages: Readonly<Record<string, string>>;
}
