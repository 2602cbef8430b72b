import { wordsPlace } from '../support/blockPlace.ts';
import { defineRule } from '../support/gradedRule.ts';
import { asLength, unitOf } from '../support/programLengths.ts';
import { cutterData, standingData } from '../support/standingData.ts';
import { standingRapids } from '../support/stockWalk.ts';
import { linesOfUncut, uncutRapids } from '../support/uncutRapids.ts';

/** A rapid that surely runs through the blank: where nothing was cut before, and, when nothing else is to do, through what still stands. */
export const rapidIntoStock = defineRule({
  code: 'rapid-into-stock',
  severity: 'error',
  reason: 'A rapid into solid material breaks the cutter and may break the spindle.',
  messages: {
    through:
      'This rapid runs {length} through the blank at Z{level}, below its top at Z{top}, where nothing was cut before. Go over the top, or cut there at feed.',
    outside:
      'This rapid runs at Z{level}, below the top of the blank at Z{top}, and the outside of {tool}, diameter {diameter} in the tool table, runs through it where nothing was cut before. Keep the tool’s centre more than {radius} away from the blank, or go over the top.',
    standing:
      'This rapid goes {depth} deep into what still stands of the blank: at X{x} Y{y} it stands to Z{standing} at least, and the rapid runs at Z{level}. Go over it, or cut there at feed first.',
    side: 'The outside of {tool}, diameter {diameter} in the tool table, goes {depth} deep at rapid into what still stands of the blank: at X{x} Y{y} it stands to Z{standing} at least, and the rapid runs at Z{level}. Keep the tool’s centre more than {radius} away from the blank, or go over it.',
    down: 'This rapid goes down into the blank to Z{level}, below its top at Z{top}, where nothing was cut before. Stop above the top and go on at feed.',
  },
  wanted: ({ stock }) => stock !== undefined,
  program(facts, report) {
    for (const { line, modes, level, top, length, part, tool } of uncutRapids(facts)) {
      if (part === 'rim') continue;
      const unit = unitOf(facts.pool, modes);
      const { start, end } = wordsPlace(facts.lineText(line));
      const message = part === 'outside' ? part : length > 0 ? 'through' : 'down';
      report(message, line, start, end, {
        length: asLength(length, unit),
        level: asLength(level, unit),
        top: asLength(top, unit),
        ...cutterData(tool, unit),
      });
    }
  },
  *costly(facts, report) {
    const told = linesOfUncut(facts, ['centre', 'outside']);
    for (const rapid of yield* standingRapids(facts)) {
      const { line, modes, part } = rapid;
      if ((part !== 'centre' && part !== 'outside') || told.has(line)) continue;
      const { start, end } = wordsPlace(facts.lineText(line));
      const data = standingData(rapid, unitOf(facts.pool, modes));
      report(part === 'centre' ? 'standing' : 'side', line, start, end, data);
    }
  },
});
