/**
 * Ordinary code that becomes a generated block: what all recognisers share. A block is offered only where it was made, and the
 * program with it in place of the code was executed: the same work, the rest of the program as it was, no new error.
 */
import { contextAt } from '../blocks/context.ts';
import { type GenerationResult, generateBlock } from '../blocks/generate.ts';
import type { RawValues } from '../blocks/parameter.ts';
import { blockByName } from '../blocks/registry.ts';
import { Analysis } from '../checks/analysis.ts';
import type { Passage, ProgramFacts } from '../checks/facts.ts';
import { type ToolShape, toolShape } from '../checks/support/toolShape.ts';
import type { Configuration } from '../machine/configuration.ts';
import { type TracedMove, tracedMoves } from './trace.ts';

/** Lines of the program, from 0, both included. */
export interface LineRange {
  readonly firstLine: number;
  readonly lastLine: number;
}

/** What the form of a block is opened with. Values in mm. */
export interface FormCall {
  readonly name: string;
  readonly values: RawValues;
  /** The lines that the block takes the place of; without them it is inserted before `line`. */
  readonly replaces?: LineRange;
  readonly line?: number;
  /** The lines were changed by hand: they are not replaced without being shown. */
  readonly edited?: boolean;
}

/** Lines that take the place of `replaces`, or come before `line`. */
export interface LinesEdit {
  readonly lines: readonly string[];
  readonly replaces?: LineRange;
  readonly line?: number;
}

/** An action; with a form it opens that, without one it is an edit that was executed and works. */
export interface BlockAction {
  readonly title: string;
  /** The rule whose finding it repairs. */
  readonly repairs?: string;
  readonly form?: FormCall;
  readonly edit?: LinesEdit;
}

/** Code that was recognised, and the block that does the same. */
export interface Lift {
  readonly title: string;
  readonly name: string;
  /** In mm. */
  readonly values: RawValues;
  readonly replaces: LineRange;
  /** True where the code says all that the block needs; else only the form can ask for the rest. */
  readonly isWhole: boolean;
  readonly repairs?: string;
  /** The cycle that the code has, `G83`: where the block has another, the title says so. */
  readonly cycle?: string;
  /** True where both do the same work. */
  isSameWork(before: readonly TracedMove[], after: readonly TracedMove[]): boolean;
}

/** A program too long to be executed again for every place that the cursor comes to, lines. */
const LONGEST = 20_000;

/** A program that code is lifted from, up to date. */
export class LiftSource {
  readonly analysis: Analysis;
  readonly configuration: Configuration;
  readonly facts: ProgramFacts;
  readonly passages: readonly Passage[];

  constructor(analysis: Analysis, configuration: Configuration) {
    this.analysis = analysis;
    this.configuration = configuration;
    this.facts = analysis.programFacts();
    this.passages = [...this.facts.passages()];
  }

  /** Set of modes behind a line; undefined where it is never reached. */
  modesBehind(line: number): number | undefined {
    const passage = this.passages.find(
      ({ segment, firstLine }) => segment.pass === 1 && line >= firstLine && line < firstLine + segment.blockCount,
    );
    return passage?.segment.modesAfter[line - passage.firstLine];
  }

  /** A mode behind a line, NaN where it is never reached. */
  mode(line: number, field: number): number {
    const modes = this.modesBehind(line);
    return modes === undefined ? Number.NaN : this.facts.pool.at(modes, field);
  }

  /** The cutter in the spindle behind a line. */
  toolAt(line: number): ToolShape | undefined {
    const modes = this.modesBehind(line);
    return modes === undefined ? undefined : toolShape(this.configuration, this.facts.pool, modes);
  }

  /** Moves of some lines. */
  movesOf({ firstLine, lastLine }: LineRange): TracedMove[] {
    return [...tracedMoves(this.analysis, { firstLine, lastLine })];
  }

  /** True where the run comes through some lines once, and not again in a loop or by another call. */
  runsOnce({ firstLine, lastLine }: LineRange): boolean {
    for (let line = firstLine; line <= lastLine; line++) if (this.modesBehind(line) === undefined) return false;
    const first = [...tracedMoves(this.analysis, { firstLine, lastLine, firstPassOnly: true })];
    return first.length === this.movesOf({ firstLine, lastLine }).length;
  }

  /** True for a line without a block: empty, or a remark alone. */
  isBlank(line: number): boolean {
    return /^\s*(\/\/.*|(\([^)]*\)\s*)*(;.*)?)$/.test(this.analysis.lineText(line));
  }
}

/** True where code of a program may be lifted at all: it is not too long to be executed again. */
export const mayLift = (analysis: Analysis): boolean => analysis.lineCount <= LONGEST;

/** The actions that put a lift into effect; none where the block does not work, or would change more than its lines. */
export const liftActions = (source: LiftSource, lift: Lift, hasForm: boolean): BlockAction[] => {
  const { title, name, values, replaces, repairs, isWhole } = lift;
  const told = { title: hasForm ? `${title}…` : title, ...(repairs === undefined ? {} : { repairs }) };
  if (!source.runsOnce(replaces)) return [];
  if (!isWhole) return hasForm ? [{ ...told, form: { name, values, replaces } }] : [];
  const result = madeInPlace(source, lift);
  if (result?.lines === undefined || !doesTheSame(source, lift, result.lines)) return [];
  const instead = cycleInstead(lift.cycle, result.lines);
  const said = { ...told, title: `${title}${instead}${hasForm ? '…' : ''}` };
  if (hasForm) return [{ ...said, form: { name, values: result.raw, replaces } }];
  return [{ ...said, edit: { lines: result.lines, replaces } }];
};

/** ", by G73 instead of G83" where the lines have another cycle; else nothing. */
const cycleInstead = (cycle: string | undefined, lines: readonly string[]): string => {
  if (cycle === undefined) return '';
  const used = lines.flatMap((line) => /\bG(?:7[346]|8[1-9])\b/.exec(line.replace(/\([^)]*\)/g, ''))?.[0] ?? []);
  return used.length === 0 || used.includes(cycle) ? '' : `, by ${used[0]} instead of ${cycle}`;
};

/** The block made where its code stands. */
export const madeInPlace = (
  { analysis, configuration }: LiftSource,
  { name, values, replaces: { firstLine, lastLine } }: Pick<Lift, 'name' | 'values' | 'replaces'>,
): GenerationResult | undefined => {
  const kind = blockByName(name);
  if (kind === undefined) return undefined;
  return generateBlock(kind, values, contextAt(analysis, firstLine, configuration, lastLine - firstLine + 1));
};

/** Executes the program with the block in place of its code. */
const doesTheSame = (source: LiftSource, lift: Lift, lines: readonly string[]): boolean => {
  const { firstLine, lastLine } = lift.replaces;
  const after = withLines(source, lift.replaces, lines);
  if (hasNewErrors(source.analysis, after)) return false;
  const own = { firstLine, lastLine: firstLine + lines.length - 1 };
  if (!lift.isSameWork(source.movesOf(lift.replaces), [...tracedMoves(after, own)])) return false;
  const before = { firstLine: 0, lastLine: firstLine - 1 };
  // What stands before may run behind it, as a subprogram does.
  if (firstLine > 0 && !isSameRest(source.movesOf(before), [...tracedMoves(after, before)])) return false;
  return isSameRest(
    [...tracedMoves(source.analysis, { firstLine: lastLine + 1 })],
    [...tracedMoves(after, { firstLine: own.lastLine + 1 })],
  );
};

/** The program, executed, with other lines in place of some. `lastLine` before `firstLine` inserts. */
export const withLines = (
  { analysis, configuration }: LiftSource,
  { firstLine, lastLine }: LineRange,
  lines: readonly string[],
): Analysis => {
  const all = Array.from({ length: analysis.lineCount }, (_, line) => analysis.lineText(line));
  const after = new Analysis(
    [...all.slice(0, firstLine), ...lines, ...all.slice(lastLine + 1)].join('\n'),
    configuration,
  );
  after.run();
  return after;
};

/** True where a program has more errors of a rule than before. */
export const hasNewErrors = (before: Analysis, after: Analysis): boolean => {
  const old = errorsOf(before);
  return [...errorsOf(after)].some(([rule, count]) => count > (old.get(rule) ?? 0));
};

const errorsOf = (analysis: Analysis): Map<string, number> => {
  const counts = new Map<string, number>();
  for (const { rule, severity } of analysis.findings().findings)
    if (severity === 'error') counts.set(rule, (counts.get(rule) ?? 0) + 1);
  return counts;
};

/** True where what follows is the same: ways at feed from and to the same places at the same feed, rapids to the same. */
export const isSameRest = (before: readonly TracedMove[], after: readonly TracedMove[]): boolean => {
  // What goes to where the tool stands already is no move; the first rapids may differ by that.
  const from = (moves: readonly TracedMove[]): readonly TracedMove[] => {
    const first = moves.findIndex(({ kind }) => kind !== 'rapid');
    return first < 0 ? [] : moves.slice(first);
  };
  const [old, now] = [from(before), from(after)];
  return old.length === now.length && old.every((move, i) => isSameMove(move, now[i]));
};

const isSame = (a: number, b: number): boolean => Math.abs(a - b) < 1e-6 || (Number.isNaN(a) && Number.isNaN(b));

const isSameMove = (a: TracedMove, b: TracedMove): boolean =>
  a.kind === b.kind &&
  a.to.every((value, axis) => isSame(value, b.to[axis])) &&
  (a.kind === 'rapid' || a.from.every((value, axis) => isSame(value, b.from[axis]))) &&
  (a.kind === 'rapid' || (isSame(a.feed, b.feed) && isSame(a.speed, b.speed))) &&
  isSame(a.tool, b.tool) &&
  (a.kind !== 'dwell' || isSame(a.seconds, b.seconds));
