/** A subprogram and its call: M98 and M99, as macro controls have them (common practice, no source). */
import type { BlockKind } from './blockKind.ts';
import { choice, number } from './commonParameters.ts';
import { programNumber, refuseObstacle, remarkText, title } from './partParameters.ts';
import type { BlockPlan, WriteBody } from './plan.ts';
import type { Values } from './values.ts';

export const subprogram: BlockKind = {
  name: 'subprogram',
  title: 'Subprogram',
  summary: 'Writes the call of a subprogram, or behind the program’s end the subprogram itself.',
  prefix: 'subprogram',
  isPart: true,
  parameters: [
    choice(
      'part',
      'What to write',
      'The call (M98), or the subprogram with its end (M99). Left out: behind the program’s end the subprogram, before it the call.',
      [
        ['call', 'Call (M98)'],
        ['program', 'Subprogram (O … M99)'],
      ],
      '',
    ),
    programNumber(
      'Number behind O of the subprogram. Left out: for a subprogram the first that is called and not there yet, else the first from 1000 on that this text does not use.',
    ),
    number('repeats', 'Times', '', 'How often the call runs it.', {
      whole: true,
      least: 1,
      most: 999,
      fallback: '1',
      group: 'Program',
    }),
    title('What the subprogram does, for a remark.'),
  ],
  plan: planSubprogram,
};

function planSubprogram(values: Values, plan: BlockPlan): WriteBody | undefined {
  const { context } = plan;
  const { profile } = context.configuration;
  const { ended } = context.entry;
  const part = values.optionalText('part') ?? (ended === true ? 'program' : 'call');
  if (!profile.flow) {
    plan.problem(
      undefined,
      `The control ${profile.name} has no subprograms: M98 and M99 are none of its codes. Write the blocks out where they are needed.`,
    );
  }
  if (part === 'call') refuseObstacle(plan);
  else if (ended === false)
    plan.word(
      'part',
      'The program has not ended here, and the control would run on into the subprogram. Put it behind M30.',
    );
  // A subprogram is written for the call that waits for it.
  const open = part === 'program' ? context.missingProgramNumber : undefined;
  const program = values.optionalNumber('program') ?? open ?? context.freeProgramNumber;
  const repeats = values.number('repeats');
  plan.fact('program', 'Subprogram', `O${program}`);
  if (plan.problems.length > 0) return undefined;
  const words = remarkText(values.optionalText('title') ?? '');
  return (writer) => {
    if (part === 'call') {
      if (words !== '') writer.remark(words);
      writer.block('M98', ...callWords(program, repeats, profile.subprogramRepeats));
      return;
    }
    writer.lines.push(`O${String(program).padStart(4, '0')}`);
    if (words !== '') writer.remark(words);
    writer.block('G90');
    writer.block('M99');
  };
}

/** P and L, or P with the repeats before the last four digits. */
export const callWords = (program: number, repeats: number, style: 'L' | 'first-digits'): string[] => {
  if (repeats === 1) return [`P${program}`];
  if (style === 'L') return [`P${program}`, `L${repeats}`];
  return [`P${String(repeats).padStart(3, '0')}${String(program).padStart(4, '0')}`];
};
