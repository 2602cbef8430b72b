import { wordsPlace } from '../support/blockPlace.ts';
import { deepestPlaces } from '../support/deepest.ts';
import { defineRule } from '../support/gradedRule.ts';
import { asLength, unitOf } from '../support/programLengths.ts';
import { stockShape } from '../support/stockShape.ts';
import { toolName } from '../support/toolShape.ts';

/** A cutter that goes deeper than it is long from the gauge line: what stands out of the holder is shorter still. */
export const holderBelowStock = defineRule({
  code: 'holder-below-stock',
  severity: 'warning',
  reason: 'A holder that goes into the work rubs, then breaks what it holds.',
  messages: {
    holder:
      'At Z{level} the holder of {tool} is at least {below} below the top of the blank at Z{top}: the tool is {length} long from the gauge line. Take a longer one, or look that the pocket is wide enough for the holder.',
  },
  program(facts, report) {
    const stock = stockShape(facts.configuration);
    if (stock === undefined || !facts.configuration.tools.some(({ length }) => length !== undefined)) return;
    for (const { line, modes, level, tool } of deepestPlaces(facts, 'moves')) {
      const length = tool.row?.length;
      if (length === undefined) continue;
      const below = stock.top - (level + length);
      if (!(below > 1e-6)) continue;
      const unit = unitOf(facts.pool, modes);
      const { start, end } = wordsPlace(facts.lineText(line));
      report('holder', line, start, end, {
        level: asLength(level, unit),
        tool: toolName(tool),
        below: asLength(below, unit),
        top: asLength(stock.top, unit),
        length: asLength(length, unit),
      });
    }
  },
});
