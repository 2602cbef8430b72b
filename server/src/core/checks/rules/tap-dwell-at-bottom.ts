import { Mode } from '../../machine/modes.ts';
import type { Fix } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';
import { LineReporter, type LineWords, wantedWord, wordFix } from '../support/lineWords.ts';
import { holderSource, threadName } from '../support/tapWords.ts';
import { threadWork } from '../support/threadWork.ts';

/** A wait at the bottom with a self-reversing head. */
export const tapDwellAtBottom = defineRule({
  code: 'tap-dwell-at-bottom',
  severity: 'warning',
  reason:
    'While the axis waits a self-reversing head taps on by itself, until it lets go or the tap strikes the bottom.',
  messages: {
    cycle:
      '{cycle} waits {seconds} s at the bottom, and the self-reversing head taps on meanwhile ({thread}, {source}). Write G85, or leave out P.',
    'by-hand':
      'The tap waits {seconds} s at the bottom, and the self-reversing head taps on meanwhile ({thread}, {source}). Turn round at once: take the wait out.',
  },
  program(facts, report) {
    const reporter = new LineReporter(facts, report);
    for (const { tap, cycle, wait, waitLine, in: pass, isRepeat } of threadWork(facts).strokes) {
      // G84 and G74 are wrong with such a head anyway, and another rule says so.
      const isJudged = cycle === 0 || (cycle === 890 && !isRepeat);
      if (!isJudged || tap?.holder?.kind !== 'reversing') continue;
      const seconds = cycle === 0 ? wait : facts.pool.at(pass.modes, Mode.cycleDwell);
      if (!(seconds > 0)) continue;
      const data = { cycle: `G${cycle / 10}`, seconds, thread: threadName(tap), source: holderSource(tap) };
      if (cycle === 0) reporter.tell('by-hand', waitLine, ['G4'], data);
      else reporter.tell('cycle', pass.line, ['P', 'G89'], data, boringFix);
    }
  },
});

/** G85 for G89, without its P. */
const boringFix = (words: LineWords): Fix[] => {
  const [code, wait] = [wantedWord(words, 'G89'), wantedWord(words, 'P')];
  return code < 0 || wait < 0 ? [] : [wordFix(words, 'Write G85 without P', [code, 'G85'], [wait, ''])];
};
