/** What a run that was cut off says of the loop that it was in. */
import { FactKind, type LoopStop, type ProgramFacts } from '../facts.ts';
import { wordsOf } from './calledPrograms.ts';

/** After so many passes a run that is cut off is no long job any more. */
const ENDLESS_PASSES = 10_000;
const STOPS = /M0*[01](?!\d)/;

/** How the loop of a run that was cut off is judged. */
export interface EndlessLoop extends LoopStop {
  /** Everything stood as it did before, or the loop had very many passes. */
  readonly repeats: boolean;
  /** The loop is in the program that its line calls. */
  readonly isCalled: boolean;
  /** A stop (M0, M1) stands in each round: a job that is meant to begin again. */
  readonly stops: boolean;
}

/** The endless loop that a run was cut off in; undefined where there is none. */
export const endlessLoopOf = (facts: ProgramFacts): EndlessLoop | undefined => {
  const { stop } = facts;
  if (stop?.loop === undefined) return undefined;
  const repeats = stop.kind === 'repeats';
  const isCutOff = stop.kind === 'steps' || stop.kind === 'moves' || stop.kind === 'seconds';
  if (!repeats && !(isCutOff && stop.loop.passes >= ENDLESS_PASSES)) return undefined;
  const { line } = stop.loop;
  const end = lastLineOf(facts, line);
  let stops = false;
  for (let at = line; at <= end && !stops; at++) stops = STOPS.test(wordsOf(facts.lineText(at)));
  return { ...stop.loop, repeats, isCalled: end < 0, stops };
};

/** Last line of the loop that begins at a line: END, or the last jump that leads back to it; −1 where none does. */
const lastLineOf = (facts: ProgramFacts, line: number): number => {
  const { layout } = facts;
  const loop = layout.loopAtHead(line);
  if (loop !== undefined) return loop.end;
  let last = -1;
  for (const jump of facts.of(FactKind.jumpTarget)) {
    if (jump.line >= line && jump.line > last && layout.jumpTarget(jump.a, jump.line) === line) last = jump.line;
  }
  return last;
};

/** The values that keep a loop going, for a message. */
export const valuesText = (values: readonly string[]): string => values.join(', ');
