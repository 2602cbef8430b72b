import { wordsPlace } from '../support/blockPlace.ts';
import { defineRule } from '../support/gradedRule.ts';
import { asLength, unitOf } from '../support/programLengths.ts';
import { uncutRapids } from '../support/uncutRapids.ts';

/** A rapid whose middle runs through a part of the blank that nothing cut before. */
export const rapidIntoStock = defineRule({
  code: 'rapid-into-stock',
  severity: 'error',
  reason: 'A rapid into solid material breaks the cutter and may break the spindle.',
  messages: {
    through:
      'This rapid runs {length} through the blank at Z{level}, below its top at Z{top}, where nothing was cut before. Go over the top, or cut there at feed.',
    down: 'This rapid goes down into the blank to Z{level}, below its top at Z{top}, where nothing was cut before. Stop above the top and go on at feed.',
  },
  program(facts, report) {
    for (const { line, modes, level, top, length, part } of uncutRapids(facts)) {
      if (part !== 'centre') continue;
      const unit = unitOf(facts.pool, modes);
      const { start, end } = wordsPlace(facts.lineText(line));
      report(length > 0 ? 'through' : 'down', line, start, end, {
        length: asLength(length, unit),
        level: asLength(level, unit),
        top: asLength(top, unit),
      });
    }
  },
});
