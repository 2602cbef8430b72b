/** The end of a program: coolant and spindle off, home the safe way, end code. */
import type { BlockKind } from './blockKind.ts';
import { choice, yesNo } from './commonParameters.ts';
import { HOME, refuseObstacle, wayHome, writeHome } from './partParameters.ts';
import type { BlockPlan, WriteBody } from './plan.ts';
import type { Values } from './values.ts';

export const programEnd: BlockKind = {
  name: 'end',
  title: 'Program end',
  summary: 'Ends a program: coolant and spindle off, Z home first and alone, then the end code.',
  prefix: 'end',
  isPart: true,
  parameters: [
    HOME,
    yesNo('table', 'Table to the front', 'Y goes to its reference point behind Z, to load the next part.'),
    choice('code', 'End code', 'M30 ends the program and goes back to its start, M2 only ends it.', [
      ['m30', 'M30'],
      ['m2', 'M2'],
    ]),
    {
      ...yesNo('tape-mark', 'Tape mark', 'Writes % behind the end. Left out: where the program opens with one.', 'no'),
    },
  ],
  plan: planEnd,
};

function planEnd(values: Values, plan: BlockPlan): WriteBody | undefined {
  refuseObstacle(plan);
  const home = wayHome(values, plan);
  const isMarked = values.isGiven('tape-mark') ? values.isYes('tape-mark') : plan.context.hasOpenTapeMark === true;
  if (plan.problems.length > 0) return undefined;
  return (writer) => {
    writer.block('M9');
    writer.block('M5');
    writeHome(writer, home);
    writer.block(values.text('code').toUpperCase());
    if (isMarked) writer.lines.push('%');
  };
}
