import { Mode } from '../../machine/modes.ts';
import type { RuleContext } from '../rule.ts';
import { LEAVES_AT_RAPID } from '../support/drillingCycles.ts';
import { defineRule } from '../support/gradedRule.ts';
import { LineReporter } from '../support/lineWords.ts';
import { stockShape } from '../support/stockShape.ts';
import { type Tap, tapInSpindle } from '../support/tapInSpindle.ts';
import { callsItself } from '../support/tapWords.ts';
import { threadWork } from '../support/threadWork.ts';
import { findCode } from '../support/words.ts';

/** A tap that is pulled out at rapid, by a cycle or by hand-written moves. */
export const tapInDrillingCycle = defineRule({
  code: 'tap-in-drilling-cycle',
  severity: 'error',
  reason: 'Pulled out at rapid, a tap tears the thread and breaks.',
  messages: {
    rapid:
      'A tap is in the spindle ({source}) and {code} leaves the hole at rapid. Tap with {tapping} at F = S × pitch, or call the drill if that is meant.',
    'by-hand':
      'A tap is in the spindle ({source}) and this block pulls it out of the hole at rapid. Tap with {tapping} at F = S × pitch.',
  },
  cycle(context) {
    const cycle = context.modes[Mode.cycle];
    const word = findCode(context.block, LEAVES_AT_RAPID);
    if (word < 0 || !LEAVES_AT_RAPID.includes(cycle)) return;
    const tap = tapInSpindle(context);
    if (tap === undefined) return;
    const { block } = context;
    const data = { source: tap.source, code: `G${cycle / 10}`, tapping: tappingFor(tap) };
    context.report('rapid', block.starts[word], block.ends[word], data);
  },
  program(facts, report) {
    const reporter = new LineReporter(facts, report);
    for (const stroke of threadWork(facts).strokes) {
      const { tap, cycle, isRepeat, in: pass } = stroke;
      if (tap === undefined || isRepeat || !LEAVES_AT_RAPID.includes(cycle) || callsItself(facts, stroke)) continue;
      const data = { source: tap.source, code: `G${cycle / 10}`, tapping: tappingFor(tap) };
      reporter.tell('rapid', pass.line, [], data);
    }
  },
  rapidOut(context) {
    const tap = tapInSpindle(context);
    if (tap === undefined || isAboveBlank(context)) return;
    const { block } = context;
    context.report('by-hand', block.starts[0], block.ends[block.wordCount - 1], {
      source: tap.source,
      tapping: tappingFor(tap),
    });
  },
});

/** True where the blank is known and the tap only came near at feed. */
const isAboveBlank = ({ configuration, modes, position }: RuleContext): boolean => {
  const stock = stockShape(configuration);
  return stock !== undefined && stock.offset === modes[Mode.offset] && position[2] >= stock.top;
};

const tappingFor = (tap: Tap): string => {
  if (tap.holder?.kind === 'reversing') return 'moves in and out at feed';
  return tap.thread?.hand === 'left' ? 'G74' : 'G84';
};
