import { defineRule } from '../support/gradedRule.ts';
import { LineReporter } from '../support/lineWords.ts';
import { outFeedFix, retractWords } from '../support/tapRetract.ts';
import { threadWork } from '../support/threadWork.ts';

/** How much slower than the head a way out may be, as a share. Common practice. */
const SLOWER = 0.05;

/** A way out that is slower than a self-reversing head turns the tap out. */
export const tapRetractTooSlow = defineRule({
  code: 'tap-retract-too-slow',
  severity: 'warning',
  severities: { equal: 'hint' },
  reason:
    'A head that is drawn out too slowly drops into neutral and in again, over and over, and wears out thread and head.',
  messages: {
    equal:
      'The way out is as fast as the way in, F{feed}, and the head turns back {ratio} times as fast ({thread}, {source}). That often runs; F{right} keeps the head in gear.',
    slow: 'The way out at F{feed} is slower than the head turns back: S{speed} × pitch {pitch} × its ratio {ratio} is F{right} ({thread}, {source}). Write F{right}.',
  },
  program(facts, report) {
    const reporter = new LineReporter(facts, report);
    for (const stroke of threadWork(facts).strokes) {
      const found = retractWords(facts, stroke);
      if (found === undefined || stroke.out === undefined) continue;
      const { wanted, feed, inFeed, data } = found;
      if (feed.perTurn >= wanted * (1 - SLOWER) - feed.roundingPerTurn) continue;
      const isEqual = inFeed !== undefined && Math.abs(inFeed.perTurn - feed.perTurn) < 1e-9;
      const wordsThere = stroke.cycle > 0 ? [`G${stroke.cycle / 10}`] : ['F'];
      reporter.tell(isEqual ? 'equal' : 'slow', stroke.out.line, wordsThere, data, outFeedFix(stroke, found));
    }
  },
});
