/**
 * What a program has not set before its first cut: units, plane, distance, work offset. One hint a program covers it: where
 * two or more are missing (or G90), `start-modes-unset`; where one is, the rule of that one.
 */
import { Given } from '../../machine/modes.ts';
import { type Fact, FactKind, type ProgramFacts } from '../facts.ts';

/** What may be missing. */
export type StartMode = 'units' | 'distance' | 'plane' | 'offset';

/** A program of the file that cuts before it has set all. */
export interface UnsetStart {
  readonly missing: readonly StartMode[];
  /** Its first cut. */
  readonly cut: Fact;
  /** The first arc, cycle or other word that needs a plane, where none was given before it. */
  readonly plane: Fact | undefined;
  /** Line of its first block that is no tape mark and no program number alone. */
  readonly head: number;
}

const known = new WeakMap<ProgramFacts, readonly UnsetStart[]>();

/** The programs of a file that cut before they have set everything. */
export const unsetStarts = (facts: ProgramFacts): readonly UnsetStart[] => {
  const answer = known.get(facts);
  if (answer !== undefined) return answer;
  const starts: UnsetStart[] = [];
  const cuts = facts.of(FactKind.firstCut).filter(({ text }) => text.startsWith('program'));
  cuts.forEach((cut, place) => {
    const end = cuts[place + 1]?.line ?? facts.lineCount;
    const plane = facts.of(FactKind.planeNeeded).find(({ line }) => line >= (place === 0 ? 0 : cut.line) && line < end);
    const missing = missingAt(cut, plane !== undefined);
    if (missing.length > 0) starts.push({ missing, cut, plane, head: headOf(facts, cut.line, place === 0) });
  });
  known.set(facts, starts);
  return starts;
};

/** Which rule tells of it: the one of a single mode, or the one of the whole start block. */
export const isTold = ({ missing }: UnsetStart, by: StartMode | 'start'): boolean => {
  const isSingle = missing.length === 1 && missing[0] !== 'distance';
  return by === 'start' ? !isSingle : isSingle && missing[0] === by;
};

const missingAt = (cut: Fact, needsPlane: boolean): StartMode[] => {
  const missing: StartMode[] = [];
  if ((cut.a & Given.units) === 0) missing.push('units');
  if ((cut.a & Given.distance) === 0) missing.push('distance');
  if (needsPlane) missing.push('plane');
  if ((cut.a & Given.offset) === 0 && !cut.text.includes('zero')) missing.push('offset');
  return missing;
};

/**
 * The first line with words of the program that cuts in line `cut`. The first program of the file begins with it, also where
 * it cuts in a subprogram that is written behind its end.
 */
const headOf = (facts: ProgramFacts, cut: number, isFirst: boolean): number => {
  let start = 0;
  if (!isFirst) for (const { line } of facts.of(FactKind.programEnd)) if (line < cut) start = line + 1;
  for (let line = start; line < cut; line++) {
    const words = facts.lineText(line).replace(/\([^)]*\)?|;.*|^\s*\/\/.*|^\s*%.*/g, '');
    if (/[a-z#]/i.test(words.replace(/^\s*[O:]\s*\d+\s*$/i, ''))) return line;
  }
  return cut;
};
