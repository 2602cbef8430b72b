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
      'At Z{level} {tool} is {depth} below the top of the blank at Z{top} and only {length} long from the gauge line, so its holder goes in at least {below}. Take a longer tool or correct its length in the tool table, unless the pocket is wider than the holder.',
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
        depth: asLength(stock.top - level, unit),
        below: asLength(below, unit),
        top: asLength(stock.top, unit),
        length: asLength(length, unit),
      });
    }
  },
});
