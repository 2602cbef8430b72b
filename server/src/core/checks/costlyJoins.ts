/**
 * Findings of rules that look at the whole program and take their time: worked out in pieces when nothing else is to do.
 * What was found last stays, moved with its lines, until the next time through has come to its end.
 */
import type { Configuration } from '../machine/configuration.ts';
import type { ProgramFacts } from './facts.ts';
import { RULES } from './rules.ts';
import type { SegmentFinding } from './segment.ts';

/** A finding at a line of the program; `rule` is the place in the register. */
export type JoinFinding = Omit<SegmentFinding, 'origin'>;

/** Places in the register of the rules that take their time. */
const COSTLY = RULES.flatMap(({ costly }, place) => (costly === undefined ? [] : [place]));

const isWanted = (rule: number, configuration: Configuration): boolean => RULES[rule].wanted?.(configuration) ?? true;

/** See the top of the file. */
export class CostlyJoins {
  /** Changes whenever other findings came out than were kept. */
  version = 0;
  /** What came out last. */
  kept: readonly JoinFinding[] = [];
  private job: Iterator<undefined> | undefined;
  private done = false;

  /** True if `kept` is what the program has as it is now. */
  get isDone(): boolean {
    return this.done;
  }

  /** The program was run again: all is to be done anew. Nothing is left to do where no rule asks for it. */
  startOver(configuration: Configuration): void {
    this.job = undefined;
    this.done = !COSTLY.some((rule) => isWanted(rule, configuration));
    if (this.done) this.kept = [];
  }

  /** Nothing that was found holds any more. */
  forget(): void {
    this.job = undefined;
    this.done = false;
    this.kept = [];
  }

  /** Lines from `first` to `last` were replaced by `text`: what was found in them goes, what is behind them moves. */
  linesReplaced(first: number, last: number, text: string): void {
    if (this.kept.length === 0) return;
    const grown = text.split(/\r\n|\r|\n/).length - (last - first + 1);
    this.kept = this.kept
      .filter(({ line }) => line < first || line > last)
      .map((finding) => (finding.line < first || grown === 0 ? finding : { ...finding, line: finding.line + grown }));
  }

  /** Works until about `until` (ms as of `Date.now`); true if nothing is left to do. */
  work(gather: () => ProgramFacts, until: number): boolean {
    if (this.done) return true;
    const job = this.job ?? this.begin(gather);
    this.job = job;
    do {
      if (!job.next().done) continue;
      this.job = undefined;
      this.done = true;
    } while (!this.done && (until === Number.POSITIVE_INFINITY || Date.now() < until));
    return this.done;
  }

  private *begin(gather: () => ProgramFacts): Generator<undefined, void> {
    const found: JoinFinding[] = [];
    const facts = gather();
    for (const rule of COSTLY) {
      const { costly } = RULES[rule];
      if (costly === undefined || !isWanted(rule, facts.configuration)) continue;
      yield* costly(facts, (message, line, column, endColumn, data = {}, fixes = []) => {
        found.push({ rule, message, line, column, endColumn, data, fixes });
      });
    }
    if (JSON.stringify(found) === JSON.stringify(this.kept)) return;
    this.kept = found;
    this.version++;
  }
}
