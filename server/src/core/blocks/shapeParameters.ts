/** Parameters that pockets, slots, facing and chamfers share. */
import { choice, number, yesNo } from './commonParameters.ts';
import type { Parameter } from './parameter.ts';

/** The cutter itself. */
export const CUTTER_PARAMETERS: readonly Parameter[] = [
  number('tool', 'Cutter', 'mm', 'Diameter of the cutter.', { needed: true, above: 0, group: 'Tool' }),
  number('flutes', 'Teeth', '', 'Teeth of the cutter, for the feed a tooth.', {
    whole: true,
    least: 1,
    most: 40,
    fallback: '4',
    group: 'Tool',
  }),
  choice(
    'cutting-material',
    'Cutter of',
    'What the cutting edges are of; for the cutting speed.',
    [
      ['carbide', 'Carbide'],
      ['hss', 'High-speed steel'],
    ],
    'carbide',
  ),
].map((parameter): Parameter => ({ ...parameter, group: 'Tool' }));

/** Corner radius of the cutter. */
export const CORNER_RADIUS = number(
  'corner-radius',
  'Corner radius',
  'mm',
  'Corner radius of the cutter, 0 for sharp.',
  {
    least: 0,
    fallback: '0',
    group: 'Tool',
  },
);

/** Length of the flutes. */
export const CUTTING_LENGTH = number(
  'cutting-length',
  'Flute length',
  'mm',
  'Length that the cutter cuts on. Left out: no word is said about the depth.',
  { above: 0, group: 'Tool' },
);

/** How a cutter goes in: the ways into full material. */
export const entryParameters = (fallback: string, help: string): readonly Parameter[] =>
  [
    choice(
      'entry',
      'Way in',
      help,
      [
        ['helix', 'Helix'],
        ['ramp', 'Ramp'],
        ['plunge', 'Straight down'],
      ],
      fallback,
    ),
    number(
      'ramp-angle',
      'Ramp angle',
      '°',
      'How steep helix or ramp may be. Left out: 3°, or the ramp limit if less.',
      {
        above: 0,
        most: 45,
      },
    ),
    number('ramp-limit', 'Ramp limit', '°', 'The steepest way that the cutter stands, by its maker.', {
      above: 0,
      most: 90,
    }),
    yesNo(
      'centre-cutting',
      'Cuts over centre',
      'The cutter cuts over its centre, so that it can go straight down.',
      'yes',
    ),
    number(
      'plunge-feed',
      'Plunge feed',
      'mm/min',
      'Feed of the cutter’s centre on its way down; on a helix as much as its wall allows. Left out: half the feed on helix and ramp, a third straight down.',
      { above: 0, group: 'Speed and feed' },
    ),
  ].map((parameter): Parameter => ({ group: 'How', ...parameter }));

/** Depth and what is left on wall and floor. */
export const DEPTH = number('depth', 'Depth', 'mm', 'Depth of the finished floor below the top.', {
  needed: true,
  above: 0,
  group: 'Levels',
});
export const FLOOR_ALLOWANCE = number(
  'floor-allowance',
  'Left on the floor',
  'mm',
  'Metal left on the floor for finishing.',
  { least: 0, fallback: '0', group: 'How' },
);
export const WALL_ALLOWANCE = number(
  'wall-allowance',
  'Left on the wall',
  'mm',
  'Metal left on the wall for finishing, on one side.',
  { least: 0, fallback: '0', group: 'How' },
);

/** Depth of one level. */
export const stepdown = (help: string): Parameter =>
  number('stepdown', 'Depth of cut', 'mm', help, { above: 0, group: 'How' });

/** Width of one pass, % of the cutter. */
export const stepover = (help: string): Parameter =>
  number('stepover', 'Stepover', '%', help, { above: 0, most: 100, group: 'How' });

/** Climb or conventional. */
export const DIRECTION: Parameter = {
  ...choice('direction', 'Direction', 'Climb milling, or conventional for a machine with play in its screws.', [
    ['climb', 'Climb'],
    ['conventional', 'Conventional'],
  ]),
  group: 'How',
};

/** How far the shape is turned. */
export const ANGLE = number('angle', 'Turned by', '°', 'Turns the shape about its centre, counter-clockwise.', {
  least: -360,
  most: 360,
  fallback: '0',
  group: 'Where',
});
