/** Which lines of a text are the program: not what stands behind its end, where people keep notes. */
import type { Analysis } from '../checks/analysis.ts';
import { FactKind } from '../checks/facts.ts';

/** Lines from `first` up to `end`, exclusive. */
interface Stretch {
  readonly first: number;
  readonly end: number;
}

/** Says of a line whether it is in the program. */
export const programScope = (analysis: Analysis): ((line: number) => boolean) => {
  const notes = notesOf(analysis);
  if (notes.length === 0) return () => true;
  return (line) => !notes.some(({ first, end }) => first <= line && line < end);
};

/** Behind the tape's second mark, and behind a program's end up to the next O number where nothing of it is run or jumped to. */
const notesOf = (analysis: Analysis): Stretch[] => {
  const facts = analysis.programFacts();
  const notes: Stretch[] = [];
  const marks = facts.of(FactKind.tapeMark).map(({ line }) => line);
  if (marks.length === 2) notes.push({ first: marks[1] + 1, end: analysis.lineCount });
  const ends = [...new Set(facts.of(FactKind.programEnd).map(({ line }) => line))];
  for (const line of ends.slice(0, MOST_ENDS)) {
    const stretch = { first: line + 1, end: analysis.layout.unitOf(line).endLine };
    if (stretch.end > stretch.first && !isUsed(analysis, stretch)) notes.push(stretch);
  }
  return notes;
};

/** More ends are not looked at: a text with so many is no program that anybody writes. */
const MOST_ENDS = 200;
/** A tail longer than this is code. */
const LONGEST_NOTES = 5000;

/** True where the run comes through some lines, or a jump leads there. */
const isUsed = (analysis: Analysis, { first, end }: Stretch): boolean => {
  if (end - first > LONGEST_NOTES) return true;
  const facts = analysis.programFacts();
  const targets = facts.of(FactKind.jumpTarget);
  for (const { a: number, line } of targets) {
    const target = analysis.layout.jumpTarget(number, line);
    if (target >= first && target < end) return true;
  }
  if (analysis.runsStraight) return false;
  for (let line = first; line < end; line++) if (analysis.isReached(line)) return true;
  return false;
};
