import { Given, Mode } from '../../machine/modes.ts';
import { letterIndex } from '../../syntax/block.ts';
import { defineRule } from '../support/gradedRule.ts';
import { LineReporter } from '../support/lineWords.ts';
import { strokeName, strokeWords, threadName } from '../support/tapWords.ts';
import { threadWork } from '../support/threadWork.ts';

const M = letterIndex('M');

/** A tap that is fed by plain moves while the feed override works. */
export const feedOverrideUnlocked = defineRule({
  code: 'feed-override-unlocked',
  severity: 'hint',
  reason: 'A hand on the override knob changes the feed of plain moves, and the tap keeps its pitch.',
  messages: {
    unlocked:
      'Here {thread} is fed by {how}, and the feed override works on that. Write M49 before it and M48 behind it if your control has them, and leave the knob at 100 %.',
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
    for (const stroke of threadWork(facts).strokes) {
      const { tap, cycle, in: pass } = stroke;
      const isPlain = cycle === 0 || cycle === 850 || cycle === 890;
      if (tap === undefined || !isPlain || (facts.pool.at(pass.modes, Mode.given) & Given.overrideLocked) !== 0)
        continue;
      if (!reporter.isNew(`tool ${facts.pool.at(pass.modes, Mode.tool)} ${threadName(tap)}`)) continue;
      reporter.tell('unlocked', pass.line, strokeWords(stroke), { thread: threadName(tap), how: strokeName(stroke) });
    }
  },
});
