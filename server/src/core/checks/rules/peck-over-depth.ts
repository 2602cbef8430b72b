import { Mode } from '../../machine/modes.ts';
import { letterIndex } from '../../syntax/block.ts';
import { cycleCode, cycleName } from '../support/cycleWords.ts';
import { defineRule } from '../support/gradedRule.ts';
import { findWord } from '../support/words.ts';

const Q = letterIndex('Q');

/** A peck that is deeper than the whole hole. */
export const peckOverDepth = defineRule({
  code: 'peck-over-depth',
  severity: 'warning',
  reason: 'The hole is drilled in one go, and the chips that the pecks were to break pack the drill.',
  messages: {
    over: 'A peck of Q{peck} is more than the {way} {unit} from R to the bottom, so {cycle} goes down in one. Write a smaller Q, or G81 if no pecks are meant.',
  },
  cycle(context) {
    const { modes, block, unit } = context;
    const cycle = modes[Mode.cycle];
    if (cycle !== 830 && cycle !== 730) return;
    const word = block.has(Q) ? findWord(block, 'Q') : -1;
    const place = word >= 0 ? word : cycleCode(context);
    const peck = modes[Mode.cyclePeck];
    const way = modes[Mode.cycleRetract] - modes[Mode.cycleDepth];
    if (place < 0 || !(way > 0) || !(peck > way + 1e-6)) return;
    context.report('over', block.starts[place], block.ends[place], {
      peck: peck / unit,
      way: way / unit,
      unit: unit === 1 ? 'mm' : 'in',
      cycle: cycleName(context),
    });
  },
});
