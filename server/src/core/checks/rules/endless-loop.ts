import { lineRange } from '../support/calledPrograms.ts';
import { defineRule } from '../support/gradedRule.ts';
import { type EndlessLoop, endlessLoopOf, valuesText } from '../support/loopStops.ts';

/** A loop that never ends. */
export const endlessLoop = defineRule({
  code: 'endless-loop',
  severity: 'error',
  reason: 'The machine repeats the same moves until somebody stops it, and what follows is never run.',
  messages: {
    repeats:
      'This loop never ends: in pass {passes} its values are what they were in a pass before ({values}). Let a block in the loop change what its condition reads, as {example} does.',
    'repeats-always':
      'This loop never ends: in pass {passes} all is as in a pass before, and nothing leads out of it. Give it a condition that a block inside it changes.',
    running:
      'This loop is still running after {passes} passes, with {values}: it counts away from its end, or in steps that are too small. Look at how its blocks change what its condition reads.',
    'running-always':
      'This loop is still running after {passes} passes, and nothing leads out of it. Give it a condition that a block inside it changes.',
    called:
      'A loop in the program that is called here never ends: in pass {passes} all is as in a pass before. Open that program and look at what its condition reads.',
  },
  program(facts, report) {
    const loop = endlessLoopOf(facts);
    if (loop === undefined || loop.stops) return;
    const [column, endColumn] = lineRange(facts, loop.line);
    report(messageOf(loop), loop.line, column, endColumn, dataOf(loop));
  },
});

const messageOf = ({ isCalled, repeats, values }: EndlessLoop): string => {
  if (isCalled && repeats) return 'called';
  return `${repeats ? 'repeats' : 'running'}${values.length > 0 ? '' : '-always'}`;
};

const dataOf = ({ passes, values }: EndlessLoop) => {
  const name = values.length === 0 ? '#1' : values[0].split(' ')[0];
  return { passes, values: valuesText(values), example: `${name}=${name}+1` };
};
