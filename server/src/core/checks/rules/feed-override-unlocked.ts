import { Given, Mode } from '../../machine/modes.ts';
import { letterIndex } from '../../syntax/block.ts';
import { generatedBlocks } from '../support/generatedBlocks.ts';
import { defineRule } from '../support/gradedRule.ts';
import { LineReporter } from '../support/lineWords.ts';
import { strokeWords, threadName } from '../support/tapWords.ts';
import { threadWork } from '../support/threadWork.ts';

const M = letterIndex('M');

/** A tap that is fed by plain moves while the feed override works. */
export const feedOverrideUnlocked = defineRule({
  code: 'feed-override-unlocked',
  severity: 'hint',
  reason: 'A hand on the override knob changes the feed of plain moves, and the tap keeps its pitch.',
  messages: {
    unlocked:
      '{thread} is tapped here with {how}, so the knob of the feed override changes its feed and spoils the thread. Leave the knob at 100 %, or write M49 before and M48 behind if your control has them.',
  },
  codes(context) {
    const { block } = context;
    if (!block.has(M)) return;
    for (let i = 0; i < block.wordCount; i++) {
      if (block.letters[i] !== M) continue;
      if (block.values[i] === 49) context.give(Given.overrideLocked);
      else if (block.values[i] === 48) context.takeBack(Given.overrideLocked);
    }
  },
  program(facts, report) {
    const reporter = new LineReporter(facts, report);
    // A generated block says in its remarks that the knob stays at 100 %, and writes M49 where it knows that the control has it.
    const { blocks } = generatedBlocks(facts);
    const isGenerated = (line: number): boolean =>
      blocks.some(({ bodyLine, lastLine }) => line >= bodyLine && line < lastLine);
    for (const stroke of threadWork(facts).strokes) {
      const { tap, cycle, in: pass } = stroke;
      const isPlain = cycle === 0 || cycle === 850 || cycle === 890;
      if (
        tap === undefined ||
        !isPlain ||
        isGenerated(pass.line) ||
        (facts.pool.at(pass.modes, Mode.given) & Given.overrideLocked) !== 0
      )
        continue;
      if (!reporter.isNew(`tool ${facts.pool.at(pass.modes, Mode.tool)} ${threadName(tap)}`)) continue;
      reporter.tell('unlocked', pass.line, strokeWords(stroke), {
        thread: threadName(tap),
        how: cycle === 0 ? 'G1' : `G${cycle / 10}`,
      });
    }
  },
});
