import { FactKind } from '../facts.ts';
import { callRange } from '../support/calledPrograms.ts';
import { defineRule } from '../support/gradedRule.ts';

/** A call of a program that is nowhere to be found. */
export const subprogramMissing = defineRule({
  code: 'subprogram-missing',
  severity: 'warning',
  reason:
    'What the called program does is missing from the path and from the checks, and the control alarms where it has no such program either.',
  messages: {
    missing:
      'O{number} is called here and is neither in this file nor in one of the folder: path and checks leave it out. Put its file beside this one, or correct the number.',
    'missing-inside':
      'The program called here calls O{number}, which is neither in this file nor in one of the folder: path and checks leave it out. Put its file beside this one, or correct the number.',
    'no-number': 'This calls a program and names none. Write its number behind P.',
  },
  program(facts, report) {
    const told = new Set<string>();
    for (const call of facts.of(FactKind.callTarget)) {
      if (call.a >= 0 && facts.isKnownProgram(call.a)) continue;
      const key = `${call.line} ${call.a} ${call.b}`;
      if (told.has(key)) continue;
      told.add(key);
      const [column, endColumn] = callRange(facts, call);
      const message = call.a < 0 ? 'no-number' : call.b === 1 ? 'missing-inside' : 'missing';
      report(message, call.line, column, endColumn, { number: call.a });
    }
  },
});
