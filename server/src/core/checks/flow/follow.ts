/** Where a run goes on behind a stretch: the jump, loop, call or return that ended it. */
import type { ChunkRunner, StretchEnd } from '../chunkRun.ts';
import type { FoundSubprogram, SubprogramHost } from './host.ts';
import type { HeadState, LoopWatch } from './loopWatch.ts';
import {
  type Call,
  type FlowSource,
  type Frame,
  lineOfSpot,
  localVariables,
  type Spot,
  SubprogramFile,
  setLocalVariables,
} from './places.ts';

/** Where the run goes on. `again` is true where a loop's end led back to its head. */
export interface Point {
  readonly source: FlowSource;
  readonly line: number;
  readonly frame: Frame | undefined;
  readonly again: boolean;
}

/** Why a run ended before its program did. */
export interface FlowStop {
  readonly kind: 'repeats' | 'steps' | 'moves' | 'seconds' | 'depth' | 'no-return' | 'loading' | 'alarm';
  readonly spot: Spot;
  /** Pass of a loop, depth of calls, number of an alarm or program. */
  readonly number?: number;
  /** What the program's own alarm says. */
  readonly text?: string;
}

/** What following needs of the run. */
export interface Follower {
  readonly runner: ChunkRunner;
  readonly source: FlowSource;
  readonly host: SubprogramHost | undefined;
  readonly limits: { readonly depth: number };
  /** Undefined while passages are run again. */
  readonly watch: LoopWatch | undefined;
  readonly called: Map<number, number>;
  readonly isProgramOver: boolean;
  headState(): HeadState;
  stopAt(stop: FlowStop): void;
}

const files = new WeakMap<object, SubprogramFile>();

/**
 * The point behind a stretch that began at `point` and ended before `line`; undefined where the run is over. Carries out
 * what calls and returns do to the variables.
 */
export const followEnd = (run: Follower, end: StretchEnd, point: Point, line: number): Point | undefined => {
  switch (end.kind) {
    case 'through':
      return goOnAt(run, point, line);
    case 'over':
      return behindEnd(run, point, line);
    case 'alarm':
      run.stopAt({ kind: 'alarm', spot: spotBefore(point, line), number: end.number, text: end.text });
      return undefined;
    case 'call':
      return call(run, end, point, line);
    case 'return':
      return giveBack(run, end.target, point, line);
    default:
      return jump(run, end, point, line);
  }
};

const at = (point: Point, line: number, again = false): Point => ({ ...point, line, again });

const spotAt = (source: FlowSource, line: number): Spot => ({
  source,
  ...source.locate(Math.max(0, Math.min(line, source.lineCount - 1))),
});

/** The last block before `line`, or the call in the program itself that led there. */
const spotBefore = (point: Point, line: number): Spot =>
  point.source.isMain || point.frame === undefined ? spotAt(point.source, line - 1) : point.frame.anchor;

/** The next line; behind the end of a called program it has no return. */
const goOnAt = (run: Follower, point: Point, line: number): Point | undefined => {
  const { source, frame } = point;
  if (frame !== undefined && (line >= source.lineCount || line >= source.layout.unitOf(point.line).endLine)) {
    run.stopAt({ kind: 'no-return', spot: frame.anchor, number: frame.call.number });
    return undefined;
  }
  if (line >= source.lineCount) return undefined;
  return run.isProgramOver ? nextProgram(run, at(point, line)) : at(point, line);
};

/** Behind the program's end: programs that were called are not run once more by themselves. */
const nextProgram = (run: Follower, point: Point): Point | undefined => {
  const { units } = point.source.layout;
  let { line } = point;
  for (const unit of units) {
    if (unit.firstLine === line && unit !== units[0] && run.called.has(unit.number)) line = unit.endLine;
  }
  return line >= point.source.lineCount ? undefined : at(point, line);
};

const behindEnd = (run: Follower, point: Point, line: number): Point | undefined => {
  if (point.frame === undefined) return goOnAt(run, point, line);
  // A subprogram ended everything: what stands behind the outermost call is not reached.
  const { source } = run;
  const anchored = lineOfSpot(point.frame.anchor);
  return goOnAt(
    run,
    { source, line: anchored, frame: undefined, again: false },
    source.layout.unitOf(anchored).endLine,
  );
};

const jump = (
  run: Follower,
  end: Extract<StretchEnd, { kind: 'flow' }>,
  point: Point,
  line: number,
): Point | undefined => {
  const { layout } = point.source;
  switch (end.statement) {
    case 'while': {
      const loop = layout.loopAtHead(line - 1);
      const goesIn = end.condition === 1 || (Number.isNaN(end.condition) && !(point.again && point.line === line - 1));
      return goOnAt(run, point, goesIn || loop === undefined || loop.end < 0 ? line : loop.end + 1);
    }
    case 'end': {
      const loop = layout.loopAtEnd(line - 1);
      return loop === undefined ? goOnAt(run, point, line) : comeBack(run, at(point, loop.head, true));
    }
    default: {
      if (end.condition !== 1) return goOnAt(run, point, line);
      return toSequenceNumber(run, end.target, point, line);
    }
  }
};

/** A jump to a sequence number; where there is none the run goes straight on. */
const toSequenceNumber = (run: Follower, number: number, point: Point, line: number): Point | undefined => {
  const target = Number.isNaN(number) ? -1 : point.source.layout.jumpTarget(number, line - 1);
  if (target < 0) return goOnAt(run, point, line);
  return target < line ? comeBack(run, at(point, target)) : at(point, target);
};

/** A jump back: the place where an endless loop is found. */
const comeBack = (run: Follower, point: Point): Point | undefined => {
  const spot = spotAt(point.source, point.line);
  const pass = run.watch?.comesBack(spot, point.frame, run.headState()) ?? 0;
  if (pass === 0) return point;
  run.stopAt({ kind: 'repeats', spot: point.source.isMain ? spot : (point.frame?.anchor ?? spot), number: pass });
  return undefined;
};

/** The text and line that a call leads to; undefined where there is none. */
const calleeOf = (
  run: Follower,
  { number, isSequenceNumber }: Call,
  point: Point,
  line: number,
): { source: FlowSource; line: number } | 'loading' | undefined => {
  if (isSequenceNumber) {
    const target = point.source.layout.jumpTarget(number, line - 1);
    return target < 0 ? undefined : { source: point.source, line: target };
  }
  for (const source of [point.source, run.source]) {
    const unit = source.layout.unitOfNumber(number);
    if (unit === undefined) continue;
    // Calls are counted when they are carried out first, not when their passage is run again.
    if (source.isMain) run.called.set(number, (run.called.get(number) ?? 0) + (run.watch === undefined ? 0 : 1));
    return { source, line: unit.firstLine };
  }
  const found = run.host?.lookup(number) ?? 'absent';
  if (found === 'loading') return found;
  return found === 'absent' ? undefined : inFile(run, found, number);
};

const inFile = (
  run: Follower,
  found: Exclude<FoundSubprogram, string>,
  number: number,
): { source: FlowSource; line: number } => {
  let source = files.get(found);
  if (source === undefined) {
    source = new SubprogramFile(found.text, run.runner.reader.profile, number);
    files.set(found, source);
  }
  return { source, line: source.layout.unitOfNumber(number)?.firstLine ?? 0 };
};

const call = (run: Follower, asked: Call, point: Point, line: number): Point | undefined => {
  const behind = (): Point | undefined => goOnAt(run, point, line);
  if (Number.isNaN(asked.number) || asked.repeats === 0) return behind();
  const callee = calleeOf(run, asked, point, line);
  if (callee === undefined) return behind();
  const anchor =
    point.source.isMain && point.frame === undefined ? spotAt(point.source, line - 1) : point.frame?.anchor;
  if (anchor === undefined) return behind();
  if (callee === 'loading') {
    run.stopAt({ kind: 'loading', spot: anchor, number: asked.number });
    return undefined;
  }
  const depth = (point.frame?.depth ?? 0) + 1;
  if (depth > run.limits.depth) {
    run.stopAt({ kind: 'depth', spot: anchor, number: run.limits.depth });
    return undefined;
  }
  const { variables } = run.runner;
  const back = backSpot(point, line);
  const saved = asked.values === undefined ? undefined : localVariables(variables);
  if (asked.values !== undefined) setLocalVariables(variables, asked.values);
  const frame: Frame = { parent: point.frame, depth, call: asked, runsLeft: asked.repeats - 1, back, anchor, saved };
  return { ...callee, frame, again: false };
};

/** The line behind a call; the text's last call comes back to a line that is not there, which is kept as one past the chunk. */
const backSpot = (point: Point, line: number): Spot => {
  const spot = spotAt(point.source, line - 1);
  return { ...spot, line: spot.line + 1 };
};

const giveBack = (run: Follower, target: number, point: Point, line: number): Point | undefined => {
  const { frame } = point;
  if (frame === undefined) {
    // M99 P in the program itself: a jump; back to an earlier block it begins again and again, like M99 alone.
    const to = point.source.layout.jumpTarget(target, line - 1);
    return to >= line ? at(point, to) : undefined;
  }
  const { variables } = run.runner;
  if (frame.runsLeft > 0) {
    const callee = calleeOf(run, frame.call, { ...point, source: frame.back.source }, lineOfSpot(frame.back));
    if (callee !== undefined && callee !== 'loading') {
      if (frame.call.values !== undefined) setLocalVariables(variables, frame.call.values);
      run.watch?.forget(frame);
      return { ...callee, frame: { ...frame, runsLeft: frame.runsLeft - 1 }, again: false };
    }
  }
  run.watch?.forget(frame);
  if (frame.saved !== undefined) setLocalVariables(variables, frame.saved);
  const caller: Point = { source: frame.back.source, line: lineOfSpot(frame.back), frame: frame.parent, again: false };
  if (Number.isNaN(target)) return goOnAt(run, { ...caller, line: caller.line - 1 }, caller.line);
  return toSequenceNumber(run, target, { ...caller, line: caller.line - 1 }, caller.line);
};
