/** The places of a row of holes as a subprogram of their own, called under each operation's cycle (common practice, no source). */

import { BlockWriter } from './blockWriter.ts';
import type { OperationName } from './holeParameters.ts';
import type { Place } from './parameter.ts';
import type { BlockPlan } from './plan.ts';
import { callWords } from './subprogram.ts';
import type { Values } from './values.ts';

/** Number of the subprogram where the values ask for one; undefined for a block with its places in it, and with problems. */
export const placesProgram = (
  values: Values,
  plan: BlockPlan,
  places: readonly Place[],
  operations: readonly OperationName[],
): number | undefined => {
  if (values.text('form') === 'cycles') return undefined;
  const { configuration, freeProgramNumber, missingProgramNumber } = plan.context;
  const { profile } = configuration;
  if (!profile.flow) {
    plan.problem('form', `The control ${profile.name} has no subprograms. Set form to cycles.`);
    return undefined;
  }
  if (places.length < 2) plan.problem('form', 'One hole needs no subprogram. Set form to cycles.');
  if (operations.includes('tap') && values.optionalText('tap.holder') === 'reversing') {
    plan.problem(
      'form',
      'A self-reversing head taps by moves of its own, and not under a cycle that a subprogram could go from place to place in. Set form to cycles.',
    );
  }
  const program = values.optionalNumber('program');
  if (program === undefined) {
    const free = values.text('form') === 'places' ? (missingProgramNumber ?? freeProgramNumber) : freeProgramNumber;
    plan.problem(
      'program',
      `The subprogram needs a number, the same for its calls. Give program; ${free} is free here.`,
    );
  }
  return program;
};

/** The subprogram: the places behind the first, a block each. */
export const placesLines = (plan: BlockPlan, program: number, places: readonly Place[]): string[] => {
  const writer = new BlockWriter(plan.context);
  writer.lines.push(`O${String(program).padStart(4, '0')}`);
  writer.remark('PLACES OF THE HOLES BEHIND THE FIRST');
  writer.furtherPlaces(places.slice(1));
  writer.block('M99');
  return writer.lines;
};

/** The call of the subprogram. */
export const placesCall = (plan: BlockPlan, program: number): string[] => [
  'M98',
  ...callWords(program, 1, plan.context.configuration.profile.subprogramRepeats),
];
