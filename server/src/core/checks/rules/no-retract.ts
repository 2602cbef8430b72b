import { Mode, type ModePool } from '../../machine/modes.ts';
import { FactKind, type Passage, type ProgramFacts, type ProgramReport } from '../facts.ts';
import type { Fix } from '../rule.ts';
import type { Segment } from '../segment.ts';
import { wordsPlace } from '../support/blockPlace.ts';
import { defineRule } from '../support/gradedRule.ts';
import { PathPlace, perSegment, SAME_PLACE, startOf } from '../support/pathWalk.ts';
import { asLength, asWord, unitOf } from '../support/programLengths.ts';
import { callsBetween, judgeRapidAtDepth, type LookBack, lookBack } from '../support/rapidAtDepth.ts';
import { topOfWork } from '../support/stockShape.ts';

/** A place of a segment to look at: a rapid in the plane, or a change of tool or offset. */
interface Suspect {
  readonly kind: 'rapid' | 'tool' | 'offset';
  /** Index of the rapid; of a change the index of the first move behind it. */
  readonly move: number;
  readonly line: number;
  readonly column: number;
  readonly endColumn: number;
}

/** The tool is taken away, or somewhere else, without coming up from where it cut. */
export const noRetract = defineRule({
  code: 'no-retract',
  severity: 'warning',
  reason: 'A tool that leaves its cut sideways at rapid ploughs through whatever stands there.',
  messages: {
    rapid: 'The cut ended at Z{level} and this rapid moves on in the plane without going up. Go up to a safe Z first.',
    home: 'The cut ended at Z{level} and the machine goes home sideways from there. Go up first, with G91 G28 Z0 in a block before it.',
    tool: 'The tool is changed where it cut, at Z{level}. Go up to a safe Z first, with G91 G28 Z0 and G90 for example.',
    offset: 'The work offset is changed while the tool stands where it cut, at Z{level}. Go up to a safe Z first.',
  },
  program(facts, report) {
    let passages: readonly Passage[] | undefined;
    let number = -1;
    const told = new Set<number>();
    const budget = lookBack();
    for (const { segment, firstLine } of facts.passages()) {
      number++;
      for (const suspect of suspectsOf(segment, facts)) {
        passages ??= [...facts.passages()];
        const line = firstLine + suspect.line;
        if (told.has(line)) continue;
        if (judge(facts, report, new PathPlace(passages, number, suspect.move), suspect, line, told, budget))
          told.add(line);
      }
    }
  },
});

/** True if it was reported. `told` holds the lines that were. */
const judge = (
  facts: ProgramFacts,
  report: ProgramReport,
  place: PathPlace,
  suspect: Suspect,
  line: number,
  told: ReadonlySet<number>,
  budget: LookBack,
): boolean => {
  const { pool } = facts;
  if (suspect.kind === 'rapid') {
    const found = judgeRapidAtDepth(place, facts, budget);
    if (found === undefined) return false;
    const { start, end } = wordsPlace(facts.lineText(line));
    const unit = unitOf(pool, place.segment.moves.modes[place.move]);
    const first =
      found.message === 'home' ? homeFirst(place.segment, suspect, pool) : upFirst(place, found.clearance, unit, facts);
    report(found.message, line, start, end, { level: asLength(place.end(2), unit) }, first);
    return true;
  }
  const suspected = place.segment;
  const cut = cutBefore(place, told);
  if (cut === undefined || callsBetween(cut.line, line, facts)) return false;
  const level = cut.end(2);
  if (!(level < topOfWork(facts.configuration, cut.mode(pool, Mode.offset)) - SAME_PLACE)) return false;
  const unit = unitOf(pool, cut.segment.moves.modes[cut.move]);
  const fixes = homeFirst(suspected, suspect, pool);
  report(suspect.kind, line, suspect.column, suspect.endColumn, { level: asLength(level, unit) }, fixes);
  return true;
};

/** A line before the finding's own. */
const lineBefore = (title: string, text: string): readonly Fix[] => [
  { title, safe: false, edits: [{ lineOffset: 0, column: 0, endColumn: 0, text: `${text}\n` }] },
];

/** Z home in a line of its own before the block. */
const homeFirst = (segment: Segment, { line }: Suspect, pool: ModePool): readonly Fix[] => {
  if (isLaterPass(segment)) return [];
  const before = line === 0 ? segment.entry.modes : segment.modesAfter[line - 1];
  const back = pool.at(before, Mode.distance) === 90 ? '\nG90' : '';
  return lineBefore('Go home along Z first', `G91 G28 Z0.${back}`);
};

/** Up to the level that the tool came down from, where the numbers of the program are plain levels. */
const upFirst = (place: PathPlace, clearance: number, unit: number, facts: ProgramFacts): readonly Fix[] => {
  const { pool, configuration } = facts;
  const isPlain =
    place.mode(pool, Mode.distance) === 90 &&
    [Mode.scaling, Mode.rotation, Mode.localShift + 2, Mode.presetShift + 2].every(
      (field) => place.mode(pool, field) === 0,
    );
  const level = asWord(clearance, unit);
  const top = topOfWork(configuration, place.mode(pool, Mode.offset));
  return isPlain && clearance > top + SAME_PLACE ? lineBefore(`Go up to Z${level} first`, `G0 Z${level}`) : [];
};

/** The cut that the tool still stands in, over rapids in the plane that were not reported; undefined where it came up. */
const cutBefore = (place: PathPlace, told: ReadonlySet<number>): PathPlace | undefined => {
  while (place.previousMotion()) {
    if (place.inCycle) return undefined;
    if (place.cuts) return !place.sideways && place.rise > 0 ? undefined : place;
    if (place.rise !== 0 || told.has(place.line)) return undefined;
  }
  return undefined;
};

const suspectsOf = perSegment((segment: Segment, facts: ProgramFacts): readonly Suspect[] => {
  const found: Suspect[] = [];
  const { moves } = segment;
  for (let move = moves.kinds.indexOf(0); move >= 0; move = moves.kinds.indexOf(0, move + 1)) {
    if (isLowInPlane(segment, move, facts)) {
      found.push({ kind: 'rapid', move, line: moves.lines[move], column: 0, endColumn: 0 });
    }
  }
  // Later passes of a loop keep no modes by line; their first one was judged.
  if (isLaterPass(segment)) return found;
  if ((segment.factKinds & ((1 << FactKind.toolChange) | (1 << FactKind.offsetSelected))) === 0) return found;
  for (const { kind, line, column, endColumn } of segment.facts) {
    if (kind === FactKind.toolChange || (kind === FactKind.offsetSelected && changesOffset(segment, line, facts))) {
      const move = moves.firstOfLine(line);
      found.push({ kind: kind === FactKind.toolChange ? 'tool' : 'offset', move, line, column, endColumn });
    }
  }
  return found.sort((a, b) => a.line - b.line);
});

/** True for a segment of further passes of a loop, or of a subprogram's file: its lines come in any order. */
const isLaterPass = ({ blockCount }: Segment): boolean => blockCount === 0;

/** True for a rapid that stays at a level below the top of the work. */
const isLowInPlane = (segment: Segment, move: number, facts: ProgramFacts): boolean => {
  const { ends, modes } = segment.moves;
  const level = ends[move * 3 + 2];
  if (!(level < 0 || facts.configuration.stock !== undefined) || startOf(segment, move, 2) !== level) return false;
  return level < topOfWork(facts.configuration, facts.pool.at(modes[move], Mode.offset)) - SAME_PLACE;
};

/** True if a block with a work offset selects another one than before. */
const changesOffset = (segment: Segment, line: number, { pool }: ProgramFacts): boolean => {
  const before = line === 0 ? segment.entry.modes : segment.modesAfter[line - 1];
  return pool.at(before, Mode.offset) !== pool.at(segment.modesAfter[line], Mode.offset);
};
