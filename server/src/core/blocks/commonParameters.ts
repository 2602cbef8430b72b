/** Parameters that every block, or many of them, take; and the reading of the shared ones. */
import type { NumberParameter, Parameter, ParameterUnit, Place } from './parameter.ts';
import type { Values } from './values.ts';

type More = Partial<NumberParameter>;

/** A number; `more` gives range, default and need. */
export const number = (
  name: string,
  label: string,
  unit: ParameterUnit,
  help: string,
  more: More = {},
): NumberParameter => ({ kind: 'number', name, label, unit, help, ...more });

/** yes or no, no where it is not given. */
export const yesNo = (name: string, label: string, help: string, fallback: 'yes' | 'no' = 'no'): Parameter => ({
  kind: 'yes-no',
  name,
  label,
  help,
  fallback,
});

/** One of some words; the first is the default unless `fallback` says otherwise (`''`: none). */
export const choice = (
  name: string,
  label: string,
  help: string,
  choices: readonly (readonly [value: string, label: string])[],
  fallback = choices[0][0],
): Parameter => ({
  kind: 'choice',
  name,
  label,
  help,
  choices: choices.map(([value, words]) => ({ value, label: words })),
  ...(fallback === '' ? {} : { fallback }),
});

export const TOP = number('top', 'Top', 'mm', 'Z of the surface that the work starts at.', {
  fallback: '0',
  group: 'Levels',
});
export const CLEARANCE = number(
  'clearance',
  'Clearance',
  'mm',
  'Height above the top at which rapid ends and feed begins.',
  { above: 0, fallback: '2', group: 'Levels' },
);
export const RETRACT = number(
  'retract',
  'Retract',
  'mm',
  'Height above the top at which the block ends, clear of clamps.',
  { above: 0, fallback: '10', group: 'Levels' },
);
const TOOL_NUMBER = number(
  'tool-number',
  'Tool number',
  '',
  'Changes to this tool first. Left out: the cutter is in the spindle already.',
  { whole: true, least: 0, most: 9999, group: 'Tool' },
);
const MATERIAL: Parameter = {
  kind: 'text',
  name: 'material',
  label: 'Material',
  help: 'What the part is of, such as aluminium or steel; for cutting speed, chip load and torque.',
  group: 'Speed and feed',
};
const SPEED = number('speed', 'Speed', 'rev/min', 'Spindle speed. Left out: from the cutting speed.', {
  above: 0,
  group: 'Speed and feed',
});
const CUTTING_SPEED = number(
  'cutting-speed',
  'Cutting speed',
  'm/min',
  'Speed of the edge, where no spindle speed is given. Check it against the tool maker’s data.',
  { above: 0, group: 'Speed and feed' },
);
const FEED = number('feed', 'Feed', 'mm/min', 'Feed. Left out: from the chip load usual for cutter and material.', {
  above: 0,
  group: 'Speed and feed',
});

/** As the program has it where nothing is given. */
export const COOLANT: Parameter = {
  ...choice(
    'coolant',
    'Coolant',
    'Flood (M8), mist (M7) or none (M9), from the first safe height on. Left out: as it is on before the block.',
    [
      ['flood', 'Flood (M8)'],
      ['mist', 'Mist (M7)'],
      ['none', 'None'],
    ],
    '',
  ),
  group: 'Speed and feed',
};

/** Tool number, material, spindle speed or cutting speed. */
export const SPEED_PARAMETERS: readonly Parameter[] = [TOOL_NUMBER, MATERIAL, SPEED, CUTTING_SPEED];
/** The same with feed and coolant. */
export const SPEED_AND_FEED: readonly Parameter[] = [...SPEED_PARAMETERS, FEED, COOLANT];

/** One centre; `centre` and `at` are the same. */
export const CENTRE_PARAMETERS: readonly Parameter[] = [
  {
    kind: 'points',
    name: 'at',
    label: 'Centre',
    help: 'X,Y of the centre; several with ; between them.',
    group: 'Where',
  },
  { kind: 'points', name: 'centre', label: 'Centre', help: 'Another word for at.', group: 'Where' },
];

/** The centres of a block, the work's zero where none is given. */
export const centresOf = (values: Values): readonly Place[] => {
  const places = values.places('at').length > 0 ? values.places('at') : values.places('centre');
  return places.length > 0 ? places : [[0, 0]];
};

/** Levels of a block, Z in mm. */
export interface Levels {
  readonly top: number;
  readonly clearance: number;
  readonly retract: number;
}

/** Top, and the levels of clearance and retract above it. `clearance`: where none was given. */
export const levelsOf = (values: Values, clearance = values.number('clearance')): Levels => {
  const top = values.number('top');
  const height = values.isGiven('clearance') ? values.number('clearance') : clearance;
  return { top, clearance: top + height, retract: top + Math.max(values.number('retract'), height) };
};
