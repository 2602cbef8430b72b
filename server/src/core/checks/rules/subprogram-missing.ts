import { FactKind } from '../facts.ts';
import { callRange } from '../support/calledPrograms.ts';
import { defineRule } from '../support/gradedRule.ts';

/** Numbers of programs that machine makers keep in the control and nobody has as a file. Common practice, no source. */
const RESIDENT = { first: 9000, last: 9999 } as const;

/** A call of a program that is nowhere to be found. */
export const subprogramMissing = defineRule({
  code: 'subprogram-missing',
  severity: 'warning',
  severities: { resident: 'hint' },
  reason:
    'What the called program does is missing from the path and from the checks, and the control alarms where it has no such program either.',
  messages: {
    missing:
      'O{number} is called here and stands neither in this file nor in another of its folder, so path and checks leave it out. Correct the number, or put its file (O{number}.nc) into this folder.',
    'missing-inside':
      'The program called here calls O{number}, which stands neither in this file nor in another of its folder, so path and checks leave it out. Correct the number there, or put its file (O{number}.nc) into this folder.',
    resident:
      'O{number} is called here and no file has it: programs from O9000 on are often the machine maker’s own, in the control. Path and checks leave it out; look yourself at what it does.',
    'no-number': 'This calls a program and names none. Write its number behind P.',
  },
  program(facts, report) {
    const told = new Set<string>();
    for (const call of facts.of(FactKind.callTarget)) {
      if (call.a >= 0 && facts.isKnownProgram(call.a)) continue;
      const isResident = call.a >= RESIDENT.first && call.a <= RESIDENT.last;
      const key = isResident ? 'resident' : `${call.line} ${call.a} ${call.b}`;
      if (told.has(key)) continue;
      told.add(key);
      const [column, endColumn] = callRange(facts, call);
      report(messageFor(call.a, call.b === 1, isResident), call.line, column, endColumn, { number: call.a });
    }
  },
});

const messageFor = (number: number, isInside: boolean, isResident: boolean): string => {
  if (number < 0) return 'no-number';
  if (isResident) return 'resident';
  return isInside ? 'missing-inside' : 'missing';
};
