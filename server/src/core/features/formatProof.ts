/**
 * Whether a program still does the same after some of its lines were written otherwise. It is executed with these lines, and
 * everything is compared: each move with its line and all modes it runs under, the modes behind each block, the variables at
 * the end, where the run stops, and that nothing is found that was not found before.
 */
import { Analysis, type Finding } from '../checks/analysis.ts';
import type { SubprogramHost } from '../checks/flow/host.ts';
import type { Segment } from '../checks/segment.ts';
import type { Configuration } from '../machine/configuration.ts';
import { MODE_COUNT, Mode } from '../machine/modes.ts';
import { EXTRA_WIDTH, type MoveTable } from '../machine/moves.ts';
import { changedText, type LineChange, type Refusal } from './formatEdits.ts';

/** The program before, up to date, with what it runs under and where its subprograms' files come from. */
export interface ProofSource {
  readonly analysis: Analysis;
  readonly configuration: Configuration;
  readonly host?: SubprogramHost | undefined;
}

/** Moves and blocks compared without a pause. */
const BATCH = 4000;

/** Milliseconds of the second run between two pauses. */
const SLICE = 4;

/** The program with changes, executed in slices. */
export function* executedWith(source: ProofSource, changes: readonly LineChange[]): Generator<undefined, Analysis> {
  const after = new Analysis(changedText(source.analysis, changes), source.configuration, source.host);
  while (!after.runSlice(SLICE)) yield undefined;
  return after;
}

/** Executes the program with changes and compares, with pauses; undefined where it does the same, else the first line that would not. */
export function* harm(source: ProofSource, changes: readonly LineChange[]): Generator<undefined, Refusal | undefined> {
  if (changes.length === 0) return undefined;
  return yield* harmOf(source, yield* executedWith(source, changes));
}

/** The same for a program that was executed with its changes already. */
export function* harmOf(source: ProofSource, after: Analysis): Generator<undefined, Refusal | undefined> {
  const line = yield* firstDifference(source.analysis, after);
  if (line !== undefined) return { line, why: `Line ${line + 1} would do something else than now.` };
  const found = newFinding(source.analysis, after);
  if (found === undefined) return undefined;
  return { line: found.line, why: `Line ${found.line + 1} would then be wrong: ${found.message}` };
}

/** The first line at which two runs part, from 0; undefined where they are the same. */
function* firstDifference(before: Analysis, after: Analysis): Generator<undefined, number | undefined> {
  const [stop, otherStop] = [before.stopped, after.stopped];
  if (stop?.line !== otherStop?.line || stop?.why !== otherStop?.why) return otherStop?.line ?? stop?.line;
  const modes = new SameModes(before, after);
  const [moves, otherMoves] = [movesOf(before), movesOf(after)];
  for (let count = 1; ; count++) {
    if (count % BATCH === 0) yield undefined;
    const [one, other] = [moves.next().value, otherMoves.next().value];
    if (one === undefined && other === undefined) break;
    if (one === undefined || other === undefined) return (one ?? other)?.line;
    if (!isSameMove(one, other, modes)) return Math.min(one.line, other.line);
  }
  const line = yield* firstOtherModes(before, after, modes);
  if (line !== undefined) return line;
  const last = before.lineCount - 1;
  return sameVariables(before, after, last) ? undefined : last;
}

function* firstOtherModes(
  before: Analysis,
  after: Analysis,
  modes: SameModes,
): Generator<undefined, number | undefined> {
  const [blocks, otherBlocks] = [blocksOf(before), blocksOf(after)];
  for (let count = 1; ; count++) {
    if (count % BATCH === 0) yield undefined;
    const [one, other] = [blocks.next().value, otherBlocks.next().value];
    if (one === undefined && other === undefined) return undefined;
    if (one === undefined || other === undefined) return (one ?? other)?.line;
    if (one.line !== other.line || !modes.are(one.modes, other.modes)) return Math.min(one.line, other.line);
  }
}

interface PlacedMove {
  line: number;
  index: number;
  table: MoveTable;
  segment: Segment;
}

/** All moves in the order of the run. The same object is handed out again and again. */
function* movesOf(analysis: Analysis): Generator<PlacedMove, undefined> {
  let place: PlacedMove | undefined;
  for (const { segment, firstLine } of analysis.passages()) {
    const { moves } = segment;
    for (let index = 0; index < moves.count; index++) {
      place ??= { line: 0, index, table: moves, segment };
      place.line = firstLine + moves.lines[index];
      place.index = index;
      place.table = moves;
      place.segment = segment;
      yield place;
    }
  }
  return undefined;
}

/** The modes behind every block that is run, in the order of their first passes. */
function* blocksOf(analysis: Analysis): Generator<{ line: number; modes: number }, undefined> {
  const place = { line: 0, modes: 0 };
  for (const { segment, firstLine } of analysis.passages()) {
    if (segment.pass !== 1) continue;
    for (let i = 0; i < segment.blockCount; i++) {
      place.line = firstLine + i;
      place.modes = segment.modesAfter[i];
      yield place;
    }
  }
  return undefined;
}

const isSame = (a: number, b: number): boolean => a === b || (Number.isNaN(a) && Number.isNaN(b));

const isSameMove = (one: PlacedMove, other: PlacedMove, modes: SameModes): boolean => {
  const [a, b] = [one.table, other.table];
  const [i, j] = [one.index, other.index];
  if (one.line !== other.line || a.kinds[i] !== b.kinds[j]) return false;
  for (let axis = 0; axis < 3; axis++) if (!isSame(a.ends[i * 3 + axis], b.ends[j * 3 + axis])) return false;
  return modes.are(a.modes[i], b.modes[j]) && haveSameExtras(a, i, b, j) && haveSameOthers(a, i, b, j);
};

const haveSameExtras = (a: MoveTable, i: number, b: MoveTable, j: number): boolean => {
  if (a.extraCount === 0 && b.extraCount === 0) return true;
  const [k, l] = [a.firstExtra(i), b.firstExtra(j)];
  const [has, otherHas] = [k < a.extraCount && a.extraMoves[k] === i, l < b.extraCount && b.extraMoves[l] === j];
  if (has !== otherHas) return false;
  for (let n = 0; has && n < EXTRA_WIDTH; n++)
    if (!isSame(a.extras[k * EXTRA_WIDTH + n], b.extras[l * EXTRA_WIDTH + n])) return false;
  return true;
};

const haveSameOthers = (a: MoveTable, i: number, b: MoveTable, j: number): boolean => {
  if (a.otherMoves.length === 0 && b.otherMoves.length === 0) return true;
  const [k, l] = [a.otherMoves.indexOf(i), b.otherMoves.indexOf(j)];
  if (k < 0 || l < 0) return k === l;
  for (let n = 0; n < 6; n++) if (!isSame(a.others[k * 6 + n], b.others[l * 6 + n])) return false;
  return true;
};

/** Compares sets of modes of two programs by their values: ids count up by themselves in each. Pairs that were alike are kept. */
class SameModes {
  private readonly before: Analysis;
  private readonly after: Analysis;
  private readonly known = new Map<number, number>();
  private readonly one = new Float64Array(MODE_COUNT);
  private readonly other = new Float64Array(MODE_COUNT);

  constructor(before: Analysis, after: Analysis) {
    this.before = before;
    this.after = after;
  }

  are(a: number, b: number): boolean {
    if (this.known.get(a) === b) return true;
    this.before.modePool.read(a, this.one);
    this.after.modePool.read(b, this.other);
    for (let field = 0; field < MODE_COUNT; field++) if (!this.isSameField(field)) return false;
    this.known.set(a, b);
    return true;
  }

  private isSameField(field: number): boolean {
    const [a, b] = [this.one[field], this.other[field]];
    if (field === Mode.setup) return true;
    if (field !== Mode.toolRemark && field !== Mode.operationRemark) return isSame(a, b);
    return this.before.modePool.string(a) === this.after.modePool.string(b);
  }
}

const sameVariables = (before: Analysis, after: Analysis, line: number): boolean => {
  const [one, other] = [before.stateAfter(line).variables, after.stateAfter(line).variables];
  if (one.size !== other.size) return false;
  for (const [name, value] of one) if (!Object.is(other.get(name), value)) return false;
  return true;
};

/** The first error or warning of a rule that has more of them than before; one that only moved is none. */
const newFinding = (before: Analysis, after: Analysis): Finding | undefined => {
  const graves = (analysis: Analysis) => analysis.findings().findings.filter(({ severity }) => severity !== 'hint');
  const [old, now] = [graves(before), graves(after)];
  const countOf = (list: readonly Finding[], rule: string): number => list.filter((one) => one.rule === rule).length;
  const more = new Set(
    [...new Set(now.map(({ rule }) => rule))].filter((rule) => countOf(now, rule) > countOf(old, rule)),
  );
  const known = new Set(old.map(({ rule, line }) => `${line} ${rule}`));
  return now.find(({ rule, line }) => more.has(rule) && !known.has(`${line} ${rule}`));
};
