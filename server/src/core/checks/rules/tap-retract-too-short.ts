import { Mode } from '../../machine/modes.ts';
import { defineRule } from '../support/gradedRule.ts';
import { LineReporter, wordFix, wordSaying } from '../support/lineWords.ts';
import { lengthPlaces, wordNumber } from '../support/numbers.ts';
import { asLength, asWord } from '../support/programLengths.ts';
import { holderSource, threadName, unitOfPass } from '../support/tapWords.ts';
import { threadWork } from '../support/threadWork.ts';

/** A way out at feed that ends before a self-reversing head has the tap free. */
export const tapRetractTooShort = defineRule({
  code: 'tap-retract-too-short',
  severity: 'warning',
  reason: 'The tap comes out behind the head: a rapid that begins too early pulls the last turns out of the thread.',
  messages: {
    short:
      'The way out at feed ends at Z{level}, and the head needs {freeUp} above Z{top} until the tap is free ({thread}, {source}). Feed out to Z{free} before the rapid.',
    cycle:
      '{cycle} feeds out to R at Z{level}, and the head needs {freeUp} above Z{top} until the tap is free ({thread}, {source}). Write R{free}.',
  },
  program(facts, report) {
    const reporter = new LineReporter(facts, report);
    for (const { tap, cycle, way, out, outTo, isRepeat } of threadWork(facts).strokes) {
      const freeUp = tap?.holder?.freeUp;
      if (tap?.holder?.kind !== 'reversing' || freeUp === undefined || out === undefined || isRepeat) continue;
      if (cycle === 840 || cycle === 740 || cycle === 330) continue;
      const top = way.bottom < way.top && way.from > way.top ? way.top : Math.min(way.from, way.top);
      if (!(outTo < top + freeUp - 1e-6)) continue;
      const unit = unitOfPass(facts.pool, out);
      const right = asWord(top + freeUp, unit);
      const data = {
        cycle: `G${cycle / 10}`,
        level: asLength(outTo, unit),
        freeUp: asLength(freeUp, unit),
        top: asLength(top, unit),
        thread: threadName(tap),
        source: holderSource(tap),
        free: asLength(top + freeUp, unit),
      };
      if (cycle === 0) reporter.tell('short', out.line, ['Z'], data);
      else {
        const isAbsolute = facts.pool.at(out.modes, Mode.distance) === 90;
        reporter.tell('cycle', out.line, ['R'], data, (words) => {
          const word = isAbsolute ? wordSaying(words, 'R', Number(wordNumber(outTo / unit, lengthPlaces(unit)))) : -1;
          return word < 0 ? [] : [wordFix(words, `Write R${right}`, [word, `R${right}`])];
        });
      }
    }
  },
});
