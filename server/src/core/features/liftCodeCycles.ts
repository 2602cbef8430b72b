/** A stretch of equal cycle holes in ordinary code: one call of the cycle, its places, and the words that hold for all. Lengths mm. */
import type { Place } from '../blocks/parameter.ts';
import { FactKind } from '../checks/facts.ts';
import { topOfWork } from '../checks/support/stockShape.ts';
import { Mode } from '../machine/modes.ts';
import { letterIndex } from '../syntax/block.ts';
import type { LiftSource, LineRange } from './liftCode.ts';
import type { TracedMove } from './trace.ts';

/** One call of a cycle with all its holes. Levels are Z of the work. */
export interface CycleStretch {
  /** The lines of its holes and the G80 behind them. */
  readonly lines: LineRange;
  /** Line of the first hole. */
  readonly callLine: number;
  /** G number × 10. */
  readonly cycle: number;
  readonly places: readonly Place[];
  readonly bottom: number;
  readonly top: number;
  /** Level R, and the one that it goes to in the end. */
  readonly near: number;
  readonly safe: number;
  /** Goes from hole to hole at R (G99). */
  readonly staysNear: boolean;
  /** Depth of a peck; NaN without. */
  readonly peck: number;
  /** mm/min and rev/min; NaN where they are not known. */
  readonly feed: number;
  readonly speed: number;
}

/** Modes that all holes of a stretch share. */
const SHARED = [
  Mode.cycle,
  Mode.tool,
  Mode.feed,
  Mode.speed,
  Mode.spindle,
  Mode.feedMode,
  Mode.speedMode,
  Mode.units,
  Mode.plane,
  Mode.offset,
  Mode.retract,
  Mode.distance,
  Mode.cycleRetract,
  Mode.cycleDepth,
  Mode.cyclePeck,
  Mode.cycleDwell,
] as const;

/** Modes that hold on behind the stretch: it must not have changed them. */
const LEFT = [Mode.units, Mode.plane, Mode.offset, Mode.distance, Mode.feedMode, Mode.speedMode, Mode.tool] as const;

const LETTERS = [...'NGXYZRQPFSKL'].map(letterIndex);
const G = letterIndex('G');
/** G codes that a hole's block may have beside its cycle. */
const CODES = [17, 90, 91, 94, 98, 99];
/** More holes than anybody lifts. */
const MOST = 500;

/** The stretch that a line with a hole belongs to; undefined where the holes are not alike, or where other words are among them. */
export const cycleStretchAt = (source: LiftSource, line: number): CycleStretch | undefined => {
  if (!(source.mode(line, Mode.cycle) > 0)) return undefined;
  let first = line;
  while (first > 0 && line - first < MOST && source.mode(first - 1, Mode.cycle) > 0) first--;
  let last = line;
  while (last + 1 < source.analysis.lineCount && last - line < MOST && source.mode(last + 1, Mode.cycle) > 0) last++;
  const holes = source.facts.of(FactKind.hole).filter((hole) => hole.line >= first && hole.line <= last);
  if (holes.length === 0 || holes.some(({ a, b, c }) => Number.isNaN(a + b + c))) return undefined;
  const callLine = holes[0].line;
  const lastHole = holes[holes.length - 1].line;
  for (let i = first; i <= lastHole; i++) if (!source.isBlank(i) && !isHole(source, i, callLine)) return undefined;
  if (first > 0 && LEFT.some((field) => source.mode(first - 1, field) !== source.mode(lastHole, field)))
    return undefined;
  if (source.mode(callLine, Mode.plane) !== 17) return undefined;
  return stretchOf(source, { firstLine: callLine, lastLine: endOf(source, lastHole) }, holes);
};

/** True for a block that makes a hole like that of the call, and does nothing else. */
const isHole = (source: LiftSource, line: number, callLine: number): boolean => {
  const same = SHARED.every((field) => Object.is(source.mode(line, field), source.mode(callLine, field)));
  // A hole whose place is computed stays so.
  if (/[#[]/.test(source.analysis.lineText(line))) return false;
  const block = source.analysis.readBlock(line);
  if (!same || block.flow !== undefined || block.assigns || block.deleteLevel > 0 || block.faults.length > 0)
    return false;
  const cycle = source.mode(callLine, Mode.cycle) / 10;
  for (let i = 0; i < block.wordCount; i++) {
    if (!LETTERS.includes(block.letters[i])) return false;
    if (block.letters[i] === G && block.values[i] !== cycle && !CODES.includes(block.values[i])) return false;
  }
  return ['X', 'Y', 'Z', 'R'].some((letter) => block.has(letterIndex(letter)));
};

/** The line of the G80 behind the last hole, where it stands alone; else the last hole's. */
const endOf = (source: LiftSource, lastHole: number): number => {
  const { analysis } = source;
  let line = lastHole + 1;
  while (line < analysis.lineCount && source.isBlank(line)) line++;
  return /^\s*(N\s*\d+)?\s*G\s*80\s*(\([^)]*\))?\s*$/i.test(analysis.lineText(line)) ? line : lastHole;
};

const stretchOf = (
  source: LiftSource,
  lines: LineRange,
  holes: readonly { readonly a: number; readonly b: number; readonly c: number }[],
): CycleStretch => {
  const callLine = lines.firstLine;
  const mode = (field: number): number => source.mode(callLine, field);
  const known = (value: number): number => (value >= 0 ? value : Number.NaN);
  const speed = mode(Mode.speedMode) === 97 ? known(mode(Mode.speed)) : Number.NaN;
  const feed = known(mode(Mode.feed)) * (mode(Mode.feedMode) === 95 ? speed : 1);
  const near = mode(Mode.cycleRetract);
  const top = topOfWork(source.configuration, mode(Mode.offset));
  const safe = mode(Mode.cycleInitial);
  return {
    lines,
    callLine,
    cycle: mode(Mode.cycle),
    places: holes.map(({ a, b }): Place => [a, b]),
    bottom: holes[0].c,
    // Feed that begins below the work's top begins in a pocket.
    top: near > top ? top : near - USUAL_CLEARANCE,
    near,
    safe: Number.isNaN(safe) ? near : Math.max(near, safe),
    staysNear: mode(Mode.retract) === 99,
    peck: mode(Mode.cyclePeck),
    feed,
    speed,
  };
};

const USUAL_CLEARANCE = 2;

/** True where the same places are cut down to the same levels. */
export const isSameHoles = (before: readonly TracedMove[], after: readonly TracedMove[]): boolean => {
  const [old, now] = [bottomsOf(before), bottomsOf(after)];
  if (old.length !== now.length || old.length === 0) return false;
  return old.every(({ x, y, z }) =>
    now.some((other) => Math.hypot(x - other.x, y - other.y) < SAME && Math.abs(z - other.z) < SAME),
  );
};

/** What rounding to the micrometre may come to, mm. */
const SAME = 0.003;

interface Bottom {
  readonly x: number;
  readonly y: number;
  z: number;
}

/** The places that are fed into, each with its lowest level. */
const bottomsOf = (moves: readonly TracedMove[]): Bottom[] => {
  const bottoms: Bottom[] = [];
  for (const { kind, from, to } of moves) {
    if (kind !== 'line' || !(to[2] < from[2])) continue;
    const known = bottoms.find(({ x, y }) => Math.hypot(x - to[0], y - to[1]) < SAME);
    if (known === undefined) bottoms.push({ x: to[0], y: to[1], z: to[2] });
    else known.z = Math.min(known.z, to[2]);
  }
  return bottoms;
};
