import { Mode } from '../../machine/modes.ts';
import { nearestPitches } from '../../reference/nearestPitches.ts';
import type { Fix, MessageData, RuleContext } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';
import { shortNumber, wordNumber } from '../support/numbers.ts';
import { judgeTapFeed, type TapFeed, tapFeed } from '../support/tapFeed.ts';
import { type Tap, tapInSpindle } from '../support/tapInSpindle.ts';
import { findCode, findWord, isPlain, numberChanged } from '../support/words.ts';

const FLOATLESS =
  'F{feed} at S{speed} is {actual} {lengthUnit} a turn, and {thread} has a pitch of {pitch} {lengthUnit} ({source}).';

/** A tapping feed that is not speed times pitch. */
export const tapFeedMismatch = defineRule({
  code: 'tap-feed-mismatch',
  severity: 'error',
  severities: { off: 'warning', 'stroke-nearly-used-up': 'warning', 'no-standard': 'warning' },
  reason: 'A tap cuts its own pitch whatever the axis does: a wrong feed tears the thread or breaks the tap.',
  messages: {
    wrong: `${FLOATLESS} Write F{right}, or the speed that goes with it.`,
    off: `${FLOATLESS} F{right} would be exact; how much the holder gives is not known here.`,
    'stroke-used-up':
      'F{feed} at S{speed} falls short of {thread} by {short} mm over the depth, and the holder gives {stroke} mm. Write F{right} or a little less.',
    'stroke-nearly-used-up':
      'F{feed} at S{speed} falls short of {thread} by {short} mm over the depth, more than two thirds of the holder’s {stroke} mm. Write F{right} or a little less.',
    'lets-go-early':
      'F{feed} at S{speed} falls short of {thread} by {short} mm over the depth, and the head lets go after {selfFeed} mm, so the thread ends short. Write F{right} or a little less.',
    'no-standard':
      'F{feed} at S{speed} is {actual} {lengthUnit} a turn, which no standard thread has. The nearest are {nearest}.',
  },
  cycle(context) {
    const cycle = context.modes[Mode.cycle];
    const always = cycle === 840 || cycle === 740;
    if (!always && cycle !== 850 && cycle !== 890) return;
    const place = placeOf(context, cycle);
    const feed = tapFeed(context);
    if (place < 0 || feed === undefined) return;
    const tap = tapInSpindle(context);
    if (tap?.thread !== undefined) judge(context, place, feed, tap, always);
    else if (always && tap?.holder?.kind !== 'float') compareWithStandard(context, place, feed);
  },
});

/** The word to report on: F, or the cycle's code, or S; −1 in blocks that only go on with the cycle. */
const placeOf = (context: RuleContext, cycle: number): number => {
  const feed = findWord(context.block, 'F');
  if (feed >= 0) return feed;
  const code = findCode(context.block, [cycle]);
  return code >= 0 ? code : findWord(context.block, 'S');
};

const judge = (context: RuleContext, place: number, feed: TapFeed, tap: Tap, reverses: boolean): void => {
  const pitch = tap.thread?.pitch ?? Number.NaN;
  // A self-reversing head in a cycle that reverses the spindle is another mistake, and not one of the feed.
  if (reverses && tap.holder?.kind === 'reversing') return;
  const verdict = judgeTapFeed(feed, pitch, tap);
  if (verdict === undefined) return;
  const right = rightFeed(context, feed, pitch);
  const data: MessageData = {
    ...valuesOf(context, feed),
    ...verdict.data,
    thread: tap.thread?.name ?? '',
    pitch: pitch / context.unit,
    source: tap.source,
    right,
  };
  const { block } = context;
  context.report(verdict.message, block.starts[place], block.ends[place], data, feedFixes(context, right));
};

/** The feed in the program's unit. */
const valuesOf = (context: RuleContext, feed: TapFeed) => ({
  feed: feed.written,
  speed: feed.speed,
  actual: feed.perTurn / context.unit,
  lengthUnit: context.unit === 1 ? 'mm' : 'in',
});

/** S × P as it is written: three decimals, rounded down so that the tap is never pushed. */
const rightFeed = (context: RuleContext, feed: TapFeed, pitch: number): string => {
  const exact = (pitch * feed.turns) / context.unit;
  const places = feed.turns === 1 ? 5 : 3;
  const scale = 10 ** places;
  return wordNumber(Math.floor(exact * scale + 1e-6) / scale, places);
};

const feedFixes = (context: RuleContext, right: string): Fix[] => {
  const word = findWord(context.block, 'F');
  if (word < 0 || !isPlain(context.block, word)) return [];
  return [context.replace(`Write F${right}`, false, numberChanged(context.block, word, right))];
};

const compareWithStandard = (context: RuleContext, place: number, feed: TapFeed): void => {
  const nearest = nearestPitches(feed.perTurn, 3);
  const gap = Math.abs(nearest[0].pitch - feed.perTurn);
  if (gap <= Math.max(feed.roundingPerTurn, nearest[0].pitch * 0.01)) return;
  const names = nearest.map(({ name, pitch }) => {
    const exact = (pitch * feed.turns) / context.unit;
    return `${name} with F${shortNumber(exact, feed.turns === 1 ? 4 : 1)}`;
  });
  const { block } = context;
  context.report('no-standard', block.starts[place], block.ends[place], {
    ...valuesOf(context, feed),
    nearest: `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`,
  });
};
