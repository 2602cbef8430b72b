import { Mode } from '../../machine/modes.ts';
import { defineRule } from '../support/gradedRule.ts';
import { LineReporter, wantedWord, wordFix } from '../support/lineWords.ts';
import { holderSource, threadName } from '../support/tapWords.ts';
import { threadWork } from '../support/threadWork.ts';

/** A tap that is turned against its hand. */
export const tapSpindleDirection = defineRule({
  code: 'tap-spindle-direction',
  severity: 'error',
  reason:
    'Turned against its hand a tap does not cut its way in, and the feed presses it into the hole until it breaks.',
  messages: {
    cycle:
      '{cycle} is for a {other}-hand thread, and this tap is {hand}-hand ({thread}, {source}). Write {right}, with M{turn} before it.',
    spindle:
      'The spindle turns by M{found}, and this tap is {hand}-hand ({thread}, {source}). Write M{turn} before it goes in.',
  },
  program(facts, report) {
    const reporter = new LineReporter(facts, report);
    for (const { tap, cycle, in: pass, isRepeat } of threadWork(facts).strokes) {
      const holder = tap?.holder?.kind;
      // Synchronised tapping brings its own direction; a head in G84 or G74 is told of by another rule.
      if (tap?.thread === undefined || (holder !== 'float' && holder !== 'reversing')) continue;
      const isCycle = cycle === 840 || cycle === 740;
      if (isRepeat || cycle === 330 || (isCycle && holder === 'reversing')) continue;
      const isRight = tap.hand === 'right';
      const turn = isRight ? 3 : 4;
      const right = isRight ? 'G84' : 'G74';
      const found = facts.pool.at(pass.modes, Mode.spindle);
      const data = {
        cycle: `G${cycle / 10}`,
        hand: tap.hand,
        other: isRight ? 'left' : 'right',
        thread: threadName(tap),
        source: holderSource(tap),
        right,
        turn,
        found,
      };
      if (isCycle && cycle !== (isRight ? 840 : 740)) {
        reporter.tell('cycle', pass.line, [data.cycle], data, (words) => {
          const code = wantedWord(words, data.cycle);
          return code < 0 || found !== turn ? [] : [wordFix(words, `Write ${right}`, [code, right])];
        });
      } else if (found === 7 - turn) reporter.tell('spindle', pass.line, cycle > 0 ? [data.cycle] : [], data);
    }
  },
});
