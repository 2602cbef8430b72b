import { wordsPlace } from '../support/blockPlace.ts';
import { defineRule } from '../support/gradedRule.ts';
import { asLength, unitOf } from '../support/programLengths.ts';
import { toolName } from '../support/toolShape.ts';
import { uncutRapids } from '../support/uncutRapids.ts';

/** A rapid beside the blank, below its top, that leaves no room for the cutter's outside. */
export const rapidBelowStockTop = defineRule({
  code: 'rapid-below-stock-top',
  severity: 'warning',
  reason: 'A rapid close beside the blank takes its edge along.',
  messages: {
    beside:
      'This rapid runs at Z{level}, below the top of the blank at Z{top}, and {tool} of {diameter} reaches into it where nothing was cut before. Keep more than {radius} away, or go over the top.',
  },
  program(facts, report) {
    for (const { line, modes, level, top, part, tool } of uncutRapids(facts)) {
      if (part !== 'rim' || tool.diameter === undefined) continue;
      const unit = unitOf(facts.pool, modes);
      const { start, end } = wordsPlace(facts.lineText(line));
      report('beside', line, start, end, {
        level: asLength(level, unit),
        top: asLength(top, unit),
        tool: toolName(tool),
        diameter: asLength(tool.diameter, unit),
        radius: asLength(tool.diameter / 2, unit),
      });
    }
  },
});
