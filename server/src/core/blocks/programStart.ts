/** The head of a program: number, title, and the modes that a program must not take over from another one. */
import type { BlockKind } from './blockKind.ts';
import { choice, yesNo } from './commonParameters.ts';
import { offsetOf, offsetParameter, programNumber, remarkText, title } from './partParameters.ts';
import type { BlockPlan, WriteBody } from './plan.ts';
import type { Values } from './values.ts';

export const programStart: BlockKind = {
  name: 'start',
  title: 'Program start',
  summary: 'Writes the head of a program: number, title, and the modes that must not be left to chance.',
  prefix: 'start',
  isPart: true,
  parameters: [
    programNumber('Number behind O. Left out: the first from 1000 on that this text does not use.'),
    title('What is made, for the first remark.'),
    choice(
      'units',
      'Units',
      'Millimetres (G21) or inches (G20). Left out: what the control starts in.',
      [
        ['mm', 'Millimetres (G21)'],
        ['inch', 'Inches (G20)'],
      ],
      '',
    ),
    {
      ...offsetParameter('Work offset of the part, such as G54 or G54.1 P3; G54 where it is left out.'),
      fallback: 'G54',
    },
    {
      ...yesNo('tape-mark', 'Tape mark', 'Writes % in front. Needed where programs are sent over a line.'),
      group: 'Program',
    },
  ],
  plan: planStart,
};

/** Modes that another program may have left on, as a control has them at power-on; the order is common practice. */
const SAFE_MODES = ['G17', 'G40', 'G49', 'G80', 'G90', 'G94', 'G98'] as const;

function planStart(values: Values, plan: BlockPlan): WriteBody | undefined {
  const { context } = plan;
  const offset = offsetOf(values, plan);
  const units = values.optionalText('units') ?? context.entry.units;
  const { flow } = context.configuration.profile;
  const program = flow ? (values.optionalNumber('program') ?? context.freeProgramNumber) : undefined;
  if (!flow && values.isGiven('program'))
    plan.word('program', 'This control has no program numbers: the number is left out.');
  if (program !== undefined) plan.fact('program', 'Program number', `O${program}`);
  if (offset === undefined) return undefined;
  return (writer) => {
    if (values.isYes('tape-mark')) writer.lines.push('%');
    if (program !== undefined) writer.lines.push(`O${String(program).padStart(4, '0')}`);
    const words = remarkText(values.optionalText('title') ?? '');
    if (words !== '') writer.remark(words);
    writer.block(units === 'inch' ? 'G20' : 'G21');
    writer.block(...SAFE_MODES);
    writer.block(offset);
  };
}
