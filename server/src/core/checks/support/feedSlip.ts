/**
 * Which slip makes a feed what it is: inches for millimetres, seconds for minutes, a turn for a minute. The bounds are
 * common practice, no source; they are wide, because a feed that is only slow or fast is nobody's business here.
 */
import type { ToolRow } from '../../machine/configuration.ts';
import { readToolRemark, type ToolKind } from '../../reference/toolRemark.ts';
import type { FeedUse } from './feedUse.ts';

const INCH = 25.4;
/** Largest feed in mm a turn of anything but a thread. */
const MOST_A_TURN = 10;
/** Less than this in mm a turn is no cut at all, whatever the tool. */
const NOTHING_A_TURN = 0.0005;
/** A feed by the turn lies between these, mm. */
const TURN_FEEDS = [0.005, 2] as const;
/** Of two feeds of one tool that differ by a factor: mm a turn that is slow for a cut, and mm a turn that is none too slow. */
const SLOW_A_TURN = 0.012;
const FAIR_A_TURN = 0.02;
/** The same for too fast. */
const FAST_A_TURN = 1;
const FAIR_MOST_A_TURN = 0.6;
/** Chip in mm a tooth: less than the first rubs, whatever the cutter; usual chips lie in the band up to a share of the diameter. */
const RUBS = 0.0015;
const LEAST_CHIP = 0.01;
const MOST_CHIP_SHARE = 0.03;
/** A chip above this share of the diameter, and above so many mm, breaks any cutter. */
const BREAKS_SHARE = 0.1;
const BREAKS = 0.8;

/** What is known of a cutter; diameter mm. */
export interface Cutter {
  readonly kind?: ToolKind;
  readonly diameter?: number;
  readonly teeth?: number;
}

/** A slip: which, the feed that would be right (as `FeedUse.feed`), and the feed of the same tool that says so. */
export interface FeedSlip {
  readonly kind: 'turn' | 'minute' | 'inch' | 'second' | 'metric';
  readonly meant: number;
  readonly beside: FeedUse | undefined;
  /** Chip in mm a tooth, where that decides. */
  readonly chip: number | undefined;
}

/** The cutter as far as its row or its remark tells. */
export const cutterOf = (row: ToolRow | undefined, remark: string, isInch: boolean): Cutter =>
  row ?? readToolRemark(remark, isInch) ?? {};

/** The likely slip in a feed, undefined where it is none. `others` are all feeds of the same tool. */
export const slipOf = (use: FeedUse, others: readonly FeedUse[], cutter: Cutter): FeedSlip | undefined => {
  if (cutter.kind === 'tap' || cutter.kind === 'probe' || !(use.feed > 0)) return undefined;
  if (use.feedMode === 95) {
    if (use.feed <= MOST_A_TURN || use.modeLeftOn) return undefined;
    return { kind: 'minute', meant: use.feed, beside: undefined, chip: undefined };
  }
  if (use.feedMode !== 94 || use.speedMode !== 97 || !(use.speed > 0)) return undefined;
  const turn = use.feed / use.speed;
  if (turn < NOTHING_A_TURN && use.feed >= TURN_FEEDS[0] && use.feed <= TURN_FEEDS[1]) {
    return { kind: 'turn', meant: use.feed * use.speed, beside: undefined, chip: undefined };
  }
  return byOthers(use, others, turn) ?? byChip(use, cutter, turn);
};

const isNear = (a: number, b: number, share: number): boolean => Math.abs(a / b - 1) < share;

/** Against the other feeds of the same tool: exactly the factor of a unit away, and no chip worth the name. */
const byOthers = (use: FeedUse, others: readonly FeedUse[], turn: number): FeedSlip | undefined => {
  if (!use.flat || use.tool < 0) return undefined;
  for (const other of others) {
    if (other === use || other.feedMode !== 94 || other.units !== use.units || !(other.speed > 0)) continue;
    const otherTurn = other.feed / other.speed;
    const slip = (kind: FeedSlip['kind'], meant: number): FeedSlip => ({ kind, meant, beside: other, chip: undefined });
    if (turn < SLOW_A_TURN && otherTurn >= FAIR_A_TURN) {
      if (use.units === 21 && isNear(other.feed, use.feed * INCH, 0.006)) return slip('inch', use.feed * INCH);
      if (isNear(other.feed, use.feed * 60, 0.003)) return slip('second', use.feed * 60);
    }
    if (turn <= FAST_A_TURN || otherTurn > FAIR_MOST_A_TURN || use.units !== 20) continue;
    if (isNear(use.feed, other.feed * INCH, 0.006)) return slip('metric', use.feed / INCH);
  }
  return undefined;
};

/** Kinds whose chip a tooth is F / (S × teeth). */
const CUTTERS: readonly (string | undefined)[] = ['end-mill', 'ball-mill', 'face-mill', 'drill'];

/** Against the chip: only where diameter and teeth are known. */
const byChip = (use: FeedUse, cutter: Cutter, turn: number): FeedSlip | undefined => {
  const { kind, diameter } = cutter;
  const teeth = cutter.teeth ?? (kind === 'drill' ? 2 : undefined);
  if (!CUTTERS.includes(kind) || diameter === undefined || teeth === undefined || diameter < 3) return undefined;
  if (!use.flat && kind !== 'drill') return undefined;
  const chip = turn / teeth;
  const isUsual = (value: number): boolean =>
    value >= LEAST_CHIP && value <= Math.max(0.05, MOST_CHIP_SHARE * diameter);
  const slip = (by: FeedSlip['kind'], factor: number): FeedSlip => ({
    kind: by,
    meant: use.feed * factor,
    beside: undefined,
    chip,
  });
  if (chip < RUBS) {
    if (use.units === 21 && isUsual(chip * INCH)) return slip('inch', INCH);
    if (isUsual(chip * 60)) return slip('second', 60);
  }
  if (use.units === 20 && chip > BREAKS && chip > BREAKS_SHARE * diameter && isUsual(chip / INCH)) {
    return slip('metric', 1 / INCH);
  }
  return undefined;
};
