/** Every hole that a program taps, with how the tap goes in and out and what was drilled there before. */
import { Mode, type ModePool } from '../../machine/modes.ts';
import { FactKind, type ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { segmentSpan } from './segmentSpan.ts';
import {
  isTappingCycle,
  openingOf,
  PASSED,
  passesShafts,
  type ShaftDigest,
  shaftDigest,
  tapsWith,
} from './shaftDigest.ts';
import type { ShaftMove } from './shaftMoves.ts';
import type { Opening, ShaftPlace } from './shafts.ts';
import { topOfWork } from './stockShape.ts';
import type { TapWay } from './tapFeed.ts';
import { type Tap, tapUnder } from './tapInSpindle.ts';
import { TappedPlaces } from './tappedPlaces.ts';

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
  /** The hole as it was when the tap came, all that came to it in the end, and its place. */
  readonly openings: readonly Opening[];
  readonly allOpenings: readonly Opening[];
  readonly place: ShaftPlace;
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
  allOpenings: readonly Opening[];
  place: ShaftPlace;
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

/** What was found last under a pool of modes, and of what. */
interface KeptWork {
  readonly configuration: ProgramFacts['configuration'];
  readonly tapped: TappedPlaces;
  readonly digests: readonly ShaftDigest[];
  readonly firstLines: readonly number[];
  readonly strokes: readonly TapStroke[];
}

const kept = new WeakMap<ModePool, KeptWork>();

const findWork = (facts: ProgramFacts): ThreadWork => {
  const { pool, configuration } = facts;
  const before = kept.get(pool);
  const last = before?.configuration === configuration ? before : undefined;
  const passages = [...facts.passages()];
  const own = passages.map(({ segment }) => digestUnlessPassed(segment, facts));
  const tapping = own.filter((digest) => digest.tapPlaces.length > 0);
  const tapped = last?.tapped.isOf(tapping) ? last.tapped : new TappedPlaces(tapping);
  const digests = own.map((digest, index) => {
    const { segment } = passages[index];
    return digest === PASSED && opensNear(segment, tapped, facts) ? shaftDigest(segment, facts) : digest;
  });
  const firstLines = passages.map(({ firstLine }, index) => (digests[index] === PASSED ? 0 : firstLine));
  const strokes =
    last !== undefined && isSame(digests, last.digests) && isSame(firstLines, last.firstLines)
      ? last.strokes
      : findStrokes(facts, tapped, digests, firstLines);
  kept.set(pool, { configuration, tapped, digests, firstLines, strokes });
  const wasExecuted = facts.stop === undefined && facts.cutOffLine < 0;
  const isWhole = wasExecuted && facts.of(FactKind.notExecuted).length === 0 && !callsNowhere(facts);
  return { strokes, isWhole: isWhole && !digests.some(({ hasUnknownHole }) => hasUnknownHole) };
};

const isSame = <T>(one: readonly T[], other: readonly T[]): boolean =>
  one.length === other.length && one.every((item, index) => item === other[index]);

const findStrokes = (
  facts: ProgramFacts,
  tapped: TappedPlaces,
  digests: readonly ShaftDigest[],
  firstLines: readonly number[],
): readonly TapStroke[] => {
  const finder = new StrokeFinder(facts, tapped);
  for (let index = 0; index < digests.length; index++) finder.takeAll(digests[index], firstLines[index]);
  return finder.found.filter(isTapping);
};

/** A segment's digest; `PASSED` where it has nothing to do with taps and only its openings may count. */
const digestUnlessPassed = (segment: Segment, facts: ProgramFacts): ShaftDigest => {
  const span = segmentSpan(segment, facts);
  return span !== undefined && passesShafts(span, facts) ? PASSED : shaftDigest(segment, facts);
};

/** True if a segment comes near a place that is tapped. */
const opensNear = (segment: Segment, tapped: TappedPlaces, facts: ProgramFacts): boolean => {
  const span = segmentSpan(segment, facts);
  return span === undefined || tapped.areNear(span.least, span.most);
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
  /** The set of slow modes looked at last. */
  setup: number;
  found: boolean;
}

const lookedAt = new WeakMap<ModePool, LookedAt>();

/** False where no set of modes of the program has a tap or a tapping cycle: then no move needs to be looked at. */
const mayThread = (facts: ProgramFacts): boolean => {
  const { pool, configuration } = facts;
  let looked = lookedAt.get(pool);
  if (looked === undefined || looked.configuration !== configuration) {
    looked = { configuration, count: 0, setup: -1, found: false };
    lookedAt.set(pool, looked);
  }
  for (; looked.count < pool.count && !looked.found; looked.count++) {
    const setup = pool.at(looked.count, Mode.setup);
    if (setup === looked.setup) continue;
    looked.setup = setup;
    looked.found = isTappingCycle(pool.at(looked.count, Mode.cycle)) || tapUnder(facts, looked.count) !== undefined;
  }
  return looked.found;
};

const NO_OPENINGS: readonly Opening[] = [];

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
  private readonly facts: ProgramFacts;
  private readonly tapped: TappedPlaces;
  private next = 0;
  private stroke: OpenStroke | undefined;
  private firstLine = 0;

  constructor(facts: ProgramFacts, tapped: TappedPlaces) {
    this.facts = facts;
    this.tapped = tapped;
    tapped.forget();
  }

  takeAll(digest: ShaftDigest, firstLine: number): void {
    this.firstLine = firstLine;
    if (digest.moves.length > 0) {
      for (const move of digest.moves) this.take(move);
      return;
    }
    if (digest.isMoving) this.stroke = undefined;
    this.tapped.openAll(digest, firstLine);
  }

  private take(move: ShaftMove): void {
    switch (move.kind) {
      case 'plunge':
      case 'circle':
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
      case 'program-start':
        this.tapped.forget();
        this.stroke = undefined;
        break;
      default:
        this.stroke = undefined;
    }
  }

  private plunge(move: ShaftMove): void {
    if (tapsWith(this.facts, move)) {
      this.tapIn(move);
      return;
    }
    this.stroke = undefined;
    const opening = openingOf(this.facts, move);
    if (opening !== undefined) this.tapped.open(opening, this.firstLine);
  }

  private tapIn(move: ShaftMove): void {
    const { facts } = this;
    const place = this.tapped.places[this.next];
    const { openings } = this.tapped.tapped[this.next++];
    const top = topOfWork(facts.configuration, place.offset);
    const cycle = move.inCycle ? facts.pool.at(move.modes, Mode.cycle) : move.synchronised ? 330 : 0;
    const tap = tapUnder(facts, move.modes);
    const pass = this.passOf(move);
    const { stroke } = this;
    if (stroke?.isOpen && !move.inCycle && stroke.out === undefined && stroke.tap === tap) {
      // Deeper in: what counts is the way that ends lowest. An approach at feed ends above the work.
      const from = stroke.way.bottom >= top ? move.from : stroke.way.from;
      stroke.way = { from, bottom: move.to, top };
      stroke.in = pass;
      return;
    }
    const before = this.found[this.found.length - 1];
    const isRepeat = cycle > 0 && before?.cycle === cycle && this.hasSameWords(before.in.modes, pass.modes);
    this.stroke = {
      tap,
      cycle,
      way: { from: move.from, bottom: move.to, top },
      in: pass,
      out: undefined,
      outTo: Number.NaN,
      wait: 0,
      waitLine: -1,
      openings: openings.length === 0 ? NO_OPENINGS : openings.slice(),
      allOpenings: openings,
      place,
      isPlaceKnown: !Number.isNaN(move.x) && !Number.isNaN(move.y),
      isRepeat,
      isOpen: true,
    };
    this.found.push(this.stroke);
  }

  /** True where two holes of a cycle have the same words. */
  private hasSameWords(one: number, other: number): boolean {
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

  private passOf(move: ShaftMove): TapPass {
    return { line: this.firstLine + move.line, modes: move.modes, to: move.to };
  }
}
