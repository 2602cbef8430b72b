/** A rule whose messages do not all weigh the same, or that has to keep quiet in a file of subprograms. */
import type { Configuration } from '../../machine/configuration.ts';
import type { ProgramFacts, ProgramReport } from '../facts.ts';
import type { Rule, RuleContext, Severity } from '../rule.ts';

/** A rule as it stands in the register. */
export interface GradedRule extends Rule {
  /** Severity of single messages (by id) where it is not the rule's own. */
  readonly severities?: Readonly<Record<string, Severity>>;
  /** True where the rule speaks of what is missing or unset: a subprogram file may have it from its caller. */
  readonly silentInSubprograms?: boolean;
  /** Bit of `Given` that is set by the first report and keeps the rule's `cut` quiet until its cause goes. */
  readonly onceUntil?: number;
  /**
   * True where the rule's `cut` says and notes nothing under the modes in force, whatever the block. Must look at modes and
   * configuration only: it is asked once for a set of modes, and no cut under it is told to the rules if all of them are idle.
   */
  readonly idle?: (context: RuleContext) => boolean;
  /** True where repairs are searched for when somebody asks for them (a wrong arc), beside those that the rule itself makes. */
  readonly repairedBySearch?: boolean;
  /** Judges the program in pieces while nothing else is to do; gives way at each `yield`. For what takes longer than a keystroke may. */
  readonly costly?: (facts: ProgramFacts, report: ProgramReport) => Generator<undefined, void>;
  /** False where the shop's file lacks what the rule's `cut` or `costly` needs: it is not called then. */
  readonly wanted?: (configuration: Configuration) => boolean;
}

/** Declares a rule. */
export const defineRule = (rule: GradedRule): GradedRule => rule;
