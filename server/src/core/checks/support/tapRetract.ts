/** The way out of a self-reversing head against how fast it turns the tap back: S·P·ratio, the ratio as its nameplate says. */
import type { TapHolder } from '../../machine/configuration.ts';
import type { ProgramFacts } from '../facts.ts';
import type { Fix, MessageData } from '../rule.ts';
import { type LineWords, wantedWord, wordFix, wordSaying } from './lineWords.ts';
import type { TapFeed } from './tapFeed.ts';
import { feedForPitch, feedOfPass, holderSource, threadName, unitOfPass } from './tapWords.ts';
import type { TapStroke } from './threadWork.ts';

/** A way out with what it ought to be. Lengths mm. */
export interface Retract {
  readonly holder: TapHolder;
  readonly feed: TapFeed;
  readonly inFeed: TapFeed | undefined;
  /** Feed a turn of the spindle at which the head turns the tap out. */
  readonly wanted: number;
  /** Millimetres a unit of the program. */
  readonly unit: number;
  readonly right: string;
  readonly data: MessageData;
}

/** The way out of a stroke; undefined where it is not one of a self-reversing head, or the head's ratio is not given. */
export const retractWords = (facts: ProgramFacts, stroke: TapStroke): Retract | undefined => {
  const { tap, cycle, out } = stroke;
  const { thread, holder } = tap ?? {};
  if (tap === undefined || thread === undefined || out === undefined || stroke.isRepeat) return undefined;
  if (holder?.kind !== 'reversing' || holder.ratio === undefined || isReversingCycle(cycle)) return undefined;
  const feed = feedOfPass(facts, stroke, out);
  if (feed === undefined) return undefined;
  const unit = unitOfPass(facts.pool, out);
  const right = feedForPitch(feed, thread.pitch, unit, holder.ratio);
  return {
    holder,
    feed,
    inFeed: feedOfPass(facts, stroke, stroke.in),
    wanted: thread.pitch * holder.ratio,
    unit,
    right,
    data: {
      feed: feed.written,
      speed: feed.speed,
      pitch: thread.pitch / unit,
      ratio: holder.ratio,
      right: right.replace(/\.$/, ''),
      thread: threadName(tap),
      source: holderSource(tap),
      lengthUnit: unit === 1 ? 'mm' : 'in',
    },
  };
};

/** In these the spindle reverses, which is another mistake with such a head. */
const isReversingCycle = (cycle: number): boolean => cycle === 840 || cycle === 740 || cycle === 330;

/** The right F on the way out's own line; none in a cycle, where in and out have one F. */
export const outFeedFix =
  ({ cycle }: TapStroke, { right, feed }: Retract) =>
  (words: LineWords): readonly Fix[] => {
    if (cycle !== 0) return [];
    const title = `Write F${right}`;
    const own = wordSaying(words, 'F', feed.written);
    if (own >= 0) return [wordFix(words, title, [own, `F${right}`])];
    const level = wantedWord(words, 'Z');
    if (wantedWord(words, 'F') >= 0 || level < 0) return [];
    return [wordFix(words, title, [level, `${words.block.wordText(level).trim()} F${right}`])];
  };
