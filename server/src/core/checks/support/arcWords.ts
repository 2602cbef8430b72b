/** Small questions about an arc that several rules ask. Lengths mm. */
import type { ArcFacts } from '../../machine/arcFacts.ts';
import { distance } from '../../machine/arcs.ts';
import { Mode } from '../../machine/modes.ts';
import type { RuleContext } from '../rule.ts';

/** Letter of a place in the alphabet. */
export const letterOf = (index: number): string => String.fromCharCode(65 + index);

/** The plane's two centre letters in the order of the alphabet, as a person says them. */
export const centreLetters = (arc: ArcFacts): { first: string; second: string } => ({
  first: letterOf(Math.min(arc.firstCentre, arc.secondCentre)),
  second: letterOf(Math.max(arc.firstCentre, arc.secondCentre)),
});

/** True where centre words are plain distances: neither scaled, turned nor polar. */
export const centreWordsArePlain = (context: RuleContext): boolean =>
  context.modes[Mode.scaling] !== 1 && context.modes[Mode.rotation] !== 1 && context.modes[Mode.polar] !== 1;

/** Way from start to end in the plane, mm. */
export const chordOf = (arc: ArcFacts): number =>
  distance(arc.endFirst - arc.startFirst, arc.endSecond - arc.startSecond);
