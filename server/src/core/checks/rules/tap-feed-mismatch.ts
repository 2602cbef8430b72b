import { Mode } from '../../machine/modes.ts';
import { nearestPitches } from '../../reference/nearestPitches.ts';
import type { ProgramFacts } from '../facts.ts';
import type { Fix, MessageData, RuleContext } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';
import { LineReporter, wordFix, wordSaying } from '../support/lineWords.ts';
import { shortNumber } from '../support/numbers.ts';
import { judgeTapFeed, type TapFeed, type TapVerdict, tapFeed } from '../support/tapFeed.ts';
import { type Tap, tapInSpindle } from '../support/tapInSpindle.ts';
import { callsItself, feedForPitch, feedOfPass, holderSource, threadName, unitOfPass } from '../support/tapWords.ts';
import { type TapStroke, threadWork } from '../support/threadWork.ts';
import { findCode, findWord, isPlain, numberChanged } from '../support/words.ts';

const NEEDS = 'F{feed} at S{speed} with pitch {pitch} needs F{right} ({thread}, {source})';

/** Cycles that a tap may run in, G number × 10. */
const TAPPING: readonly number[] = [840, 740, 850, 890];

/** A tapping feed that is not speed times pitch. */
export const tapFeedMismatch = defineRule({
  code: 'tap-feed-mismatch',
  severity: 'error',
  severities: { off: 'warning', 'stroke-nearly-used-up': 'warning', 'run-on': 'warning', 'no-standard': 'warning' },
  reason: 'A tap cuts its own pitch whatever the axis does: a wrong feed tears the thread or breaks the tap.',
  messages: {
    wrong: `${NEEDS}: as written it goes {actual} {lengthUnit} a turn. Write F{right}, or the S that goes with it.`,
    off: `${NEEDS}: as written it goes {actual} {lengthUnit} a turn. How much the holder gives is not known here; F{right} suits every one.`,
    'held-back': `${NEEDS}: in a synchronised holder the tap would be held back {sum} {lengthUnit} over {depth} {lengthUnit}. Write F{right}.`,
    'pushed-on': `${NEEDS}: in a synchronised holder the tap would be pushed on by {sum} {lengthUnit} over {depth} {lengthUnit}. Write F{right}.`,
    compressed: `${NEEDS}: over {depth} {lengthUnit} the holder is pressed together by {sum} {lengthUnit}, and the tap shaves the flanks. Write F{right} or a little less.`,
    'stroke-used-up': `${NEEDS}: over {depth} {lengthUnit} the float is drawn out {short} {lengthUnit}{runOnPart}, and it has {stroke}. Write F{right} or a little less.`,
    'stroke-nearly-used-up': `${NEEDS}: over {depth} {lengthUnit} the float is drawn out {short} {lengthUnit}{runOnPart}, more than two thirds of its {stroke}. Write F{right} or a little less.`,
    'run-on':
      'At S{speed} the spindle runs on by {runOn} {lengthUnit} of thread before it turns back, if it slows down as it runs up, and the float has {stroke} ({thread}, {source}). Write a lower S, with F to suit.',
    'lets-go-early': `${NEEDS}: over {depth} {lengthUnit} the tap gets {short} {lengthUnit} ahead and the head lets go after {selfFeed}, so the thread ends short. Write F{right} or a little less.`,
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
  program(facts, report) {
    const reporter = new LineReporter(facts, report);
    for (const stroke of threadWork(facts).strokes) {
      const pitch = stroke.tap?.thread?.pitch;
      const feed = isJudgedHere(facts, stroke) ? feedOfPass(facts, stroke, stroke.in) : undefined;
      if (stroke.tap === undefined || pitch === undefined || feed === undefined) continue;
      const verdict = judgeTapFeed(feed, pitch, stroke.tap);
      if (verdict === undefined) continue;
      const unit = unitOfPass(facts.pool, stroke.in);
      const data = dataOf(feed, stroke.tap, verdict, unit);
      reporter.tell(verdict.message, stroke.in.line, ['F'], data, (words) => {
        const word = wordSaying(words, 'F', feed.written);
        const right = feedForPitch(feed, pitch, unit);
        return word < 0 || verdict.message === 'run-on' ? [] : [wordFix(words, `Write F${right}`, [word, `F${right}`])];
      });
    }
  },
});

/**
 * True for moves by hand, and for a hole of a cycle whose own block writes nothing of it (F or S stand alone before it, or the
 * cycle was called with L0): there `cycle` has no word to report on.
 */
const isJudgedHere = (facts: ProgramFacts, stroke: TapStroke): boolean => {
  const { cycle, isRepeat, tap } = stroke;
  if (cycle === 0) return true;
  if (isRepeat || !TAPPING.includes(cycle) || (cycle < 850 && tap?.holder?.kind === 'reversing')) return false;
  return !callsItself(facts, stroke, 'F', 'S');
};

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
  const data = dataOf(feed, tap, verdict, context.unit);
  const { block } = context;
  const fixes = verdict.message === 'run-on' ? [] : feedFixes(context, feedForPitch(feed, pitch, context.unit));
  context.report(verdict.message, block.starts[place], block.ends[place], data, fixes);
};

/** A verdict's lengths (mm) in the program's unit, with what all messages say. */
const dataOf = (feed: TapFeed, tap: Tap, verdict: TapVerdict, unit: number): MessageData => {
  const places = unit === 1 ? 2 : 3;
  const pitch = tap.thread?.pitch ?? Number.NaN;
  const own = Object.entries(verdict.data).map(([key, value]) => [key, shortNumber(Number(value) / unit, places)]);
  return {
    ...valuesOf(feed, unit),
    depth: shortNumber(feed.depth / unit, places),
    ...Object.fromEntries(own),
    runOnPart: runOnPart(Number(verdict.data.runOn ?? 0) / unit, places),
    thread: threadName(tap),
    pitch: pitch / unit,
    source: holderSource(tap),
    right: feedForPitch(feed, pitch, unit).replace(/\.$/, ''),
  };
};

/** How much of a way is the spindle's run-on, in the program's unit; nothing where there is none, or none is known. */
const runOnPart = (runOn: number, places: number): string =>
  runOn > 0 ? ` (${shortNumber(runOn, places)} of it by spindle run-on)` : '';

/** The feed in the program's unit. */
const valuesOf = (feed: TapFeed, unit: number) => ({
  feed: feed.written,
  speed: feed.speed,
  actual: feed.perTurn / unit,
  lengthUnit: unit === 1 ? 'mm' : 'in',
});

const feedFixes = (context: RuleContext, right: string): Fix[] => {
  const word = findWord(context.block, 'F');
  if (word < 0 || !isPlain(context.block, word)) return [];
  return [context.replace(`Write F${right}`, false, numberChanged(context.block, word, right))];
};

const compareWithStandard = (context: RuleContext, place: number, feed: TapFeed): void => {
  const nearest = nearestPitches(feed.perTurn, 3);
  const gap = Math.abs(nearest[0].pitch - feed.perTurn);
  if (gap <= Math.max(feed.roundingPerTurn, nearest[0].pitch * (0.01 + 1e-9))) return;
  const names = nearest.map(({ name, pitch }) => {
    const exact = (pitch * feed.turns) / context.unit;
    return `${name} with F${shortNumber(exact, feed.turns === 1 ? 4 : 1)}`;
  });
  const { block } = context;
  context.report('no-standard', block.starts[place], block.ends[place], {
    ...valuesOf(feed, context.unit),
    nearest: `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`,
  });
};
