/** The head of a tool's part of a program: home, change, speed, first place, length, coolant. */
import type { ToolRow } from '../machine/configuration.ts';
import { offsetName } from '../machine/machinePosition.ts';
import type { BlockKind } from './blockKind.ts';
import type { BlockWriter } from './blockWriter.ts';
import {
  CENTRE_PARAMETERS,
  COOLANT,
  centresOf,
  choice,
  number,
  RETRACT,
  SPEED_PARAMETERS,
  TOP,
} from './commonParameters.ts';
import { spindleSpeed } from './cuttingData.ts';
import type { Parameter, Place } from './parameter.ts';
import {
  HOME,
  offsetOf,
  offsetParameter,
  refuseObstacle,
  remarkText,
  title,
  type WayHome,
  wayHome,
  writeHome,
} from './partParameters.ts';
import type { BlockPlan, WriteBody } from './plan.ts';
import type { Values } from './values.ts';

const SECTION_COOLANT: Parameter = { ...COOLANT, help: 'Flood (M8), mist (M7) or none.', fallback: 'flood' };

const HAND: Parameter = {
  ...choice(
    'hand',
    'Turns',
    'Right-hand tools turn with M3, left-hand ones with M4. Left out: as the tool table says, else right.',
    [
      ['right', 'Right (M3)'],
      ['left', 'Left (M4)'],
    ],
    '',
  ),
  group: 'Tool',
};

/** The tool number must be given here. */
const parametersOfTool = SPEED_PARAMETERS.map(
  (parameter): Parameter =>
    parameter.name === 'tool-number' ? { ...parameter, needed: true, help: 'The tool that is changed to.' } : parameter,
);

export const toolSection: BlockKind = {
  name: 'tool-section',
  title: 'Tool section',
  summary: 'Changes the tool, starts spindle and coolant, and brings it over the first place at a safe height.',
  prefix: 'tool',
  isPart: true,
  parameters: [
    ...parametersOfTool,
    { ...title('What the tool is, such as END MILL D10. Left out: as the tool table says.'), group: 'Tool' },
    number('tool', 'Cutter', 'mm', 'Diameter, to find the spindle speed by where none is given.', {
      above: 0,
      group: 'Tool',
    }),
    HAND,
    number('length-offset', 'Length register', '', 'H of the tool’s length. Left out: the tool’s number.', {
      whole: true,
      least: 1,
      most: 9999,
      group: 'Tool',
    }),
    SECTION_COOLANT,
    offsetParameter('Work offset, such as G54. Left out: the one in force.'),
    ...CENTRE_PARAMETERS.map((parameter) =>
      parameter.name === 'at' ? { ...parameter, label: 'First place', help: 'X,Y to go to first.' } : parameter,
    ),
    TOP,
    RETRACT,
    HOME,
  ],
  plan: planSection,
};

interface SectionPlan {
  readonly toolNumber: number;
  readonly register: number;
  readonly description: string;
  readonly speed: number;
  readonly turn: 'M3' | 'M4';
  readonly coolant: string;
  readonly offset: string | undefined;
  readonly at: Place;
  readonly height: number;
  readonly home: WayHome;
}

function planSection(values: Values, plan: BlockPlan): WriteBody | undefined {
  refuseObstacle(plan);
  const { entry, configuration } = plan.context;
  const toolNumber = values.number('tool-number');
  const row = configuration.tools.find((candidate) => candidate.number === toolNumber);
  const offset = offsetOf(values, plan) ?? (entry.offset === undefined ? undefined : offsetName(entry.offset));
  const places = centresOf(values);
  if (places.length > 1) plan.problem('at', `One first place is needed, and ${places.length} are given. Leave one.`);
  const section: SectionPlan = {
    toolNumber,
    register: values.optionalNumber('length-offset') ?? row?.lengthOffset ?? toolNumber,
    description: remarkText(values.optionalText('title') ?? row?.description ?? ''),
    speed: speedOf(values, plan, row),
    turn: (values.optionalText('hand') ?? row?.hand ?? 'right') === 'left' ? 'M4' : 'M3',
    coolant: { flood: 'M8', mist: 'M7' }[values.text('coolant')] ?? '',
    offset,
    at: places[0],
    height: values.number('top') + values.number('retract'),
    home: wayHome(values, plan),
  };
  plan.fact('length-offset', 'Length register', `H${section.register}`);
  plan.fact('height', 'First height', section.height, 'mm');
  return plan.problems.length > 0 ? undefined : (writer) => write(writer, section);
}

/** Spindle speed as given, or by diameter and cutting speed; a problem where neither leads to one. */
const speedOf = (
  values: Values,
  plan: BlockPlan,
  { kind = 'end-mill', teeth = 2, cuttingMaterial: cutting = 'hss', diameter: known }: Partial<ToolRow> = {},
): number => {
  const diameter = values.optionalNumber('tool') ?? known;
  const speed = values.optionalNumber('speed');
  if (diameter !== undefined) return spindleSpeed(values, plan, { kind, diameter, teeth, cutting });
  const top = plan.context.configuration.machine?.topSpeed ?? Number.POSITIVE_INFINITY;
  if (speed === undefined) {
    plan.problem(
      'speed',
      'Speed is missing. Give the speed, or the cutter’s diameter with a cutting speed or material.',
    );
    return 0;
  }
  if (speed > top) {
    plan.problem(
      'speed',
      `Speed ${plan.say(speed, 'rev/min')} is over the machine’s ${plan.say(top, 'rev/min')}. Give ${Math.floor(top)} or less.`,
    );
  }
  plan.fact('speed', 'Spindle speed', speed, 'rev/min');
  return Math.round(speed);
};

const write = (writer: BlockWriter, section: SectionPlan): void => {
  const { entry } = writer.context;
  if (entry.spindle === 3 || entry.spindle === 4) {
    writer.block('M9');
    writer.block('M5');
  }
  writeHome(writer, section.home);
  writer.changeTool(section.toolNumber);
  if (section.description !== '') writer.remark(section.description);
  writer.block(['S', section.speed], section.turn);
  // Modes that the tool before may have left on are stated where they are not the usual ones.
  const modes = [entry.plane === 17 ? '' : 'G17', entry.feedMode === 94 ? '' : 'G94', section.offset ?? ''];
  writer.block('G0', ...modes.filter((word) => word !== ''), ['X', section.at[0]], ['Y', section.at[1]]);
  writer.block('G43', ['Z', section.height], ['H', section.register]);
  if (section.coolant !== '') writer.block(section.coolant);
};
