import { wordsPlace } from '../support/blockPlace.ts';
import { defineRule } from '../support/gradedRule.ts';
import { asLength, unitOf } from '../support/programLengths.ts';
import { cutterData, standingData } from '../support/standingData.ts';
import { standingRapids } from '../support/stockWalk.ts';
import { linesOfUncut, uncutRapids } from '../support/uncutRapids.ts';

/** A rapid below the blank's top that leaves no room for the cutter's outside, or of which nobody knows what stands there. */
export const rapidBelowStockTop = defineRule({
  code: 'rapid-below-stock-top',
  severity: 'warning',
  reason: 'A rapid close beside the blank takes its edge along.',
  messages: {
    beside:
      'This rapid runs at Z{level}, below the top of the blank at Z{top}, and {tool}, diameter {diameter}, reaches into it where nothing was cut before. Keep the tool’s centre more than {radius} away from the blank, or go over the top.',
    side: 'At X{x} Y{y} the outside of {tool}, diameter {diameter}, goes {depth} deep at rapid into what still stands of the blank, to Z{standing} at least. Keep the tool’s centre more than {radius} away from the blank, or go over it.',
    unsure:
      'This rapid runs at Z{level} through X{x} Y{y}, where the blank may still stand to Z{standing}: how far {cutter} cut before, nobody knows without its diameter. Give the diameter in its remark or the tool table, or go over the top.',
  },
  wanted: ({ stock }) => stock !== undefined,
  program(facts, report) {
    for (const { line, modes, level, top, part, tool } of uncutRapids(facts)) {
      if (part !== 'rim' || tool.diameter === undefined) continue;
      const unit = unitOf(facts.pool, modes);
      const { start, end } = wordsPlace(facts.lineText(line));
      report('beside', line, start, end, {
        level: asLength(level, unit),
        top: asLength(top, unit),
        ...cutterData(tool, unit),
      });
    }
  },
  *costly(facts, report) {
    const told = linesOfUncut(facts, ['centre', 'outside', 'rim']);
    for (const rapid of yield* standingRapids(facts)) {
      const { line, modes, part } = rapid;
      if ((part !== 'rim' && part !== 'unsure') || told.has(line)) continue;
      const { start, end } = wordsPlace(facts.lineText(line));
      const data = standingData(rapid, unitOf(facts.pool, modes));
      report(part === 'rim' ? 'side' : 'unsure', line, start, end, data);
    }
  },
});
