/** Every hole that a program taps, with how the tap goes in and out and what was drilled there before. */
import { Mode, type ModePool } from '../../machine/modes.ts';
import { readToolRemark } from '../../reference/toolRemark.ts';
import { FactKind, type Passage, type ProgramFacts } from '../facts.ts';
import { type ShaftMove, shaftMoves } from './shaftMoves.ts';
import { type Opening, offsetUnder, roundOpening, type Shaft, Shafts, straightOpening } from './shafts.ts';
import { topOfWork } from './stockShape.ts';
import type { TapWay } from './tapFeed.ts';
import { type Tap, tapUnder } from './tapInSpindle.ts';
import { type ToolShape, toolShape } from './toolShape.ts';

/** One way of a tap at feed, with the set of modes that it runs under and its line of the program (from 0). */
export interface TapPass {
  readonly line: number;
  readonly modes: number;
  /** Level that it ends at, mm. */
  readonly to: number;
}

/** A hole that is tapped. */
export interface TapStroke {
  /** Undefined in a tapping cycle whose tool is not known. */
  readonly tap: Tap | undefined;
  /** G number × 10 of the cycle; 0 for moves written by hand, 330 for G33. */
  readonly cycle: number;
  readonly way: TapWay;
  readonly in: TapPass;
  /** First and last way out at feed; undefined where it leaves otherwise, or the run ends before. */
  readonly out: TapPass | undefined;
  readonly outTo: number;
  /** Waits in the hole, seconds, and the line of the first. */
  readonly wait: number;
  readonly waitLine: number;
  /** The hole as it was when the tap came, and the place with all that came to it. */
  readonly openings: readonly Opening[];
  readonly shaft: Shaft;
  readonly isPlaceKnown: boolean;
  /** True where the cycle only goes on to another place with the words of the hole before. */
  readonly isRepeat: boolean;
}

interface OpenStroke {
  tap: Tap | undefined;
  cycle: number;
  way: TapWay;
  in: TapPass;
  out: TapPass | undefined;
  outTo: number;
  wait: number;
  waitLine: number;
  openings: readonly Opening[];
  shaft: Shaft;
  isPlaceKnown: boolean;
  isRepeat: boolean;
  /** False once it left the hole. */
  isOpen: boolean;
}

/** The tapped holes of a program. */
export interface ThreadWork {
  readonly strokes: readonly TapStroke[];
  /** True where every hole that the program makes is known with its place, so that none can be missing. */
  readonly isWhole: boolean;
}

const NOTHING: ThreadWork = { strokes: [], isWhole: true };
const byFacts = new WeakMap<ProgramFacts, ThreadWork>();

/** All tapped holes of a program, in the order of the run; found once for all rules. */
export const threadWork = (facts: ProgramFacts): ThreadWork => {
  const before = byFacts.get(facts);
  if (before !== undefined) return before;
  const found = mayThread(facts) ? findWork(facts) : NOTHING;
  byFacts.set(facts, found);
  return found;
};

const findWork = (facts: ProgramFacts): ThreadWork => {
  const finder = new StrokeFinder(facts);
  for (const passage of facts.passages()) finder.takeAll(passage);
  const strokes = finder.found.filter(isTapping);
  const wasExecuted =
    facts.stop === undefined &&
    facts.cutOffLine < 0 &&
    facts.of(FactKind.notExecuted).length === 0 &&
    !callsNowhere(facts);
  return { strokes, isWhole: wasExecuted && !finder.hasUnknownHole };
};

/** True where a call leads to a program that nobody finds: it may drill. */
const callsNowhere = (facts: ProgramFacts): boolean =>
  facts.of(FactKind.callTarget).some(({ a }) => !facts.isKnownProgram(a));

/** Moves by hand tap where they go into the work, or come out at feed; others only bring the tap near. */
const isTapping = ({ cycle, way, out }: TapStroke): boolean =>
  (cycle > 0 && cycle !== 330) || way.bottom < way.top - 1e-6 || out !== undefined;

/** Sets of modes of a pool that were looked at, and whether one of them has a tap or a tapping cycle. */
interface LookedAt {
  readonly configuration: ProgramFacts['configuration'];
  count: number;
  found: boolean;
}

const lookedAt = new WeakMap<ModePool, LookedAt>();

/** False where no set of modes of the program has a tap or a tapping cycle: then no move needs to be looked at. */
const mayThread = (facts: ProgramFacts): boolean => {
  const { pool, configuration } = facts;
  let looked = lookedAt.get(pool);
  if (looked === undefined || looked.configuration !== configuration) {
    looked = { configuration, count: 0, found: false };
    lookedAt.set(pool, looked);
  }
  for (; looked.count < pool.count && !looked.found; looked.count++) {
    looked.found = isTappingCycle(pool.at(looked.count, Mode.cycle)) || tapUnder(facts, looked.count) !== undefined;
  }
  return looked.found;
};

const isTappingCycle = (cycle: number): boolean => cycle === 840 || cycle === 740;

/** What a cycle takes over from one hole to the next. */
const SHARED_WORDS = [
  Mode.tool,
  Mode.feed,
  Mode.speed,
  Mode.spindle,
  Mode.feedMode,
  Mode.cycleRetract,
  Mode.cycleDepth,
  Mode.cycleDwell,
] as const;

class StrokeFinder {
  readonly found: OpenStroke[] = [];
  hasUnknownHole = false;
  private readonly facts: ProgramFacts;
  private shafts = new Shafts();
  private stroke: OpenStroke | undefined;
  private firstLine = 0;

  constructor(facts: ProgramFacts) {
    this.facts = facts;
  }

  takeAll({ segment, firstLine }: Passage): void {
    this.firstLine = firstLine;
    for (const move of shaftMoves(segment, this.facts)) this.take(move);
  }

  private take(move: ShaftMove): void {
    switch (move.kind) {
      case 'plunge':
        this.plunge(move);
        break;
      case 'rise':
        this.rise(move);
        break;
      case 'rapid-rise':
        if (this.stroke !== undefined) this.stroke.isOpen = false;
        break;
      case 'wait':
        this.wait(move);
        break;
      case 'circle':
        this.circle(move);
        break;
      case 'program-start':
        this.shafts = new Shafts();
        this.stroke = undefined;
        break;
      default:
        this.stroke = undefined;
    }
  }

  private plunge(move: ShaftMove): void {
    const { facts } = this;
    const { pool, configuration } = facts;
    const cycle = move.inCycle ? pool.at(move.modes, Mode.cycle) : move.synchronised ? 330 : 0;
    const tap = tapUnder(facts, move.modes);
    const top = topOfWork(configuration, offsetUnder(pool, move.modes));
    if (tap !== undefined || isTappingCycle(cycle)) {
      this.tapIn(move, tap, cycle, top);
      return;
    }
    this.stroke = undefined;
    if (cycle === 330) return;
    const tool = shapeUnder(facts, move.modes);
    const opening = straightOpening(tool, move.to, top, { line: this.firstLine + move.line, modes: move.modes });
    if (opening === undefined) return;
    if (Number.isNaN(move.x) || Number.isNaN(move.y)) this.hasUnknownHole = true;
    this.shaftOf(move).openings.push(opening);
  }

  private tapIn(move: ShaftMove, tap: Tap | undefined, cycle: number, top: number): void {
    const pass = this.passOf(move);
    const { stroke } = this;
    if (stroke?.isOpen && !move.inCycle && stroke.out === undefined && stroke.tap === tap) {
      // Deeper in: what counts is the way that ends lowest. An approach at feed ends above the work.
      const from = stroke.way.bottom >= top ? move.from : stroke.way.from;
      stroke.way = { from, bottom: move.to, top };
      stroke.in = pass;
      return;
    }
    const shaft = this.shaftOf(move);
    const before = this.found[this.found.length - 1];
    const isRepeat = cycle > 0 && before?.cycle === cycle && this.isSame(before.in.modes, pass.modes);
    this.stroke = {
      tap,
      cycle,
      way: { from: move.from, bottom: move.to, top },
      in: pass,
      out: undefined,
      outTo: Number.NaN,
      wait: 0,
      waitLine: -1,
      openings: [...shaft.openings],
      shaft,
      isPlaceKnown: !Number.isNaN(move.x) && !Number.isNaN(move.y),
      isRepeat,
      isOpen: true,
    };
    this.found.push(this.stroke);
  }

  /** True where two holes of a cycle have the same words. */
  private isSame(one: number, other: number): boolean {
    const { pool } = this.facts;
    return one === other || SHARED_WORDS.every((field) => Object.is(pool.at(one, field), pool.at(other, field)));
  }

  private rise(move: ShaftMove): void {
    const { stroke } = this;
    if (!stroke?.isOpen) return;
    stroke.out ??= this.passOf(move);
    stroke.outTo = move.to;
  }

  private wait(move: ShaftMove): void {
    const { stroke } = this;
    if (!stroke?.isOpen || stroke.out !== undefined) return;
    stroke.wait += move.amount;
    if (stroke.waitLine < 0) stroke.waitLine = this.firstLine + move.line;
  }

  private circle(move: ShaftMove): void {
    this.stroke = undefined;
    const tool = shapeUnder(this.facts, move.modes);
    const place = { line: this.firstLine + move.line, modes: move.modes };
    const opening = roundOpening(tool, move.to, move.amount, place);
    if (opening !== undefined) this.shaftOf(move).openings.push(opening);
  }

  private passOf(move: ShaftMove): TapPass {
    return { line: this.firstLine + move.line, modes: move.modes, to: move.to };
  }

  private shaftOf({ x, y, modes, turn }: ShaftMove): Shaft {
    return this.shafts.at({ x, y, offset: offsetUnder(this.facts.pool, modes), turn });
  }
}

/** The tool in the spindle; where neither the table nor its own remark tells of it, as the operation's remark says. */
const shapeUnder = ({ configuration, pool }: ProgramFacts, modes: number): ToolShape => {
  const shape = toolShape(configuration, pool, modes);
  if (shape.kind !== undefined) return shape;
  const remark = pool.string(pool.at(modes, Mode.operationRemark));
  const read = remark === '' ? undefined : readToolRemark(remark, pool.at(modes, Mode.units) === 20);
  return read === undefined
    ? shape
    : { ...shape, kind: read.kind, diameter: read.diameter, pointAngle: read.pointAngle };
};
