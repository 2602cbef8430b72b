import { defineRule } from '../support/gradedRule.ts';
import { LineReporter } from '../support/lineWords.ts';
import { shortNumber } from '../support/numbers.ts';
import { depthInWork } from '../support/tapFeed.ts';
import { outFeedFix, retractWords } from '../support/tapRetract.ts';
import { threadWork } from '../support/threadWork.ts';

/** How much faster than the head a way out may be where the head's float is not known, as a share. Common practice. */
const FASTER = 0.05;

/** A way out that is faster than a self-reversing head turns the tap out. */
export const tapRetractTooFast = defineRule({
  code: 'tap-retract-too-fast',
  severity: 'error',
  severities: { 'float-not-known': 'warning' },
  reason: 'Drawn out faster than it turns, the tap uses up the float and then tears the thread out.',
  messages: {
    fast: 'F{feed} on the way out pulls the tap {over} {lengthUnit} ahead of the head over {depth} {lengthUnit}, and its float is {float} ({thread}, {source}). Feed out at F{right} (S{speed} × pitch {pitch} × the head’s ratio {ratio}).',
    'float-not-known':
      'F{feed} on the way out pulls the tap {over} {lengthUnit} ahead of the head over {depth} {lengthUnit}, and its float is not given ({thread}, {source}). Feed out at F{right} (S{speed} × pitch {pitch} × the head’s ratio {ratio}).',
  },
  program(facts, report) {
    const reporter = new LineReporter(facts, report);
    for (const stroke of threadWork(facts).strokes) {
      const found = retractWords(facts, stroke);
      if (found === undefined || stroke.out === undefined) continue;
      const { wanted, feed, data, unit, holder } = found;
      const depth = depthInWork(stroke.way);
      const over = ((feed.perTurn - wanted) / feed.perTurn) * depth;
      // The last place of F is rounded.
      const rounding = (feed.roundingPerTurn / feed.perTurn) * depth;
      const isKnown = holder.float !== undefined;
      const allowed = isKnown ? Number(holder.float) : FASTER * depth;
      if (!(over > 0 && over - rounding > allowed + 1e-9)) continue;
      const places = unit === 1 ? 2 : 3;
      const values = {
        ...data,
        over: shortNumber(over / unit, places),
        depth: shortNumber(depth / unit, places),
        float: shortNumber((holder.float ?? 0) / unit, places),
      };
      const wordsThere = stroke.cycle > 0 ? [`G${stroke.cycle / 10}`] : ['F'];
      const message = isKnown ? 'fast' : 'float-not-known';
      reporter.tell(message, stroke.out.line, wordsThere, values, outFeedFix(stroke, found));
    }
  },
});
