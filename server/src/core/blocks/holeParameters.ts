/** What a pattern of holes is given by: the pattern, the operations over it, and what each operation takes. */
import { choice, number, RETRACT, SPEED_AND_FEED, TOP, yesNo } from './commonParameters.ts';
import type { NumberParameter, Parameter } from './parameter.ts';
import { programNumber } from './partParameters.ts';
import { TAP_PARAMETERS } from './tapParameters.ts';

/** An operation over all holes of a pattern. */
export type OperationName = 'spot' | 'drill' | 'countersink' | 'counterbore' | 'ream' | 'bore' | 'tap';

/** The operations in the order they usually come. */
const OPERATIONS: readonly (readonly [name: OperationName, label: string])[] = [
  ['spot', 'Spot'],
  ['drill', 'Drill'],
  ['countersink', 'Countersink'],
  ['counterbore', 'Counterbore'],
  ['bore', 'Bore'],
  ['ream', 'Ream'],
  ['tap', 'Tap'],
];

/** What an operation is called beside the form. */
export const operationLabel = (operation: OperationName): string =>
  OPERATIONS.find(([name]) => name === operation)?.[1] ?? operation;

/** Names that the first operation takes from the block where it has none of its own. */
export const OF_THE_FIRST: readonly string[] = ['tool-number', 'speed', 'cutting-speed', 'feed'];

const inPatterns = (...values: readonly string[]) => ({ name: 'pattern', values });

const PLACE_PARAMETERS: readonly Parameter[] = [
  {
    ...choice('pattern', 'Pattern', 'How the holes lie. A frame is holes round the edge of a rectangle.', [
      ['list', 'List of places'],
      ['row', 'Row'],
      ['grid', 'Grid'],
      ['circle', 'Circle'],
      ['frame', 'Frame'],
    ]),
    group: 'Where',
  },
  {
    kind: 'points',
    name: 'at',
    label: 'Place',
    help: 'X,Y of each hole of a list, of the first hole of a row, of the lower left one of a grid or frame, of a circle’s centre; several with ; between them repeat the pattern. 0,0 where it is left out.',
    group: 'Where',
  },
  { kind: 'points', name: 'centre', label: 'Centre', help: 'Another word for the place.', group: 'Where' },
  {
    kind: 'pair',
    name: 'count',
    label: 'Count',
    unit: '',
    help: 'How many holes: 6 for a row or circle, 4,3 for 4 along and 3 across in a grid or frame, whose corners count once.',
    group: 'Where',
    onlyWith: inPatterns('row', 'grid', 'circle', 'frame'),
  },
  {
    kind: 'pair',
    name: 'spacing',
    label: 'Spacing',
    unit: 'mm',
    help: 'From hole to hole: 10, or 10,12 for along and across. Negative goes the other way.',
    group: 'Where',
    onlyWith: inPatterns('row', 'grid', 'frame'),
  },
  number('angle', 'Turned by', '°', 'Turns the whole pattern about its place, counter-clockwise from the X axis.', {
    least: -360,
    most: 360,
    fallback: '0',
    group: 'Where',
    onlyWith: inPatterns('row', 'grid', 'circle', 'frame'),
  }),
  number('radius', 'Circle’s radius', 'mm', 'Radius of the bolt circle: half of the diameter that a drawing gives.', {
    above: 0,
    group: 'Where',
    onlyWith: inPatterns('circle'),
  }),
  number(
    'start',
    'First hole at',
    '°',
    'Angle of the first hole on the circle, counter-clockwise from the X axis: 0 is at X+, 90 at Y+.',
    {
      least: -360,
      most: 360,
      fallback: '0',
      group: 'Where',
      onlyWith: inPatterns('circle'),
    },
  ),
  number(
    'sweep',
    'Spread over',
    '°',
    'Angle from the first hole to the last, counter-clockwise; negative is clockwise. 360 shares out the full circle.',
    { least: -360, most: 360, fallback: '360', group: 'Where', onlyWith: inPatterns('circle') },
  ),
];

const GROUPS: Readonly<Record<OperationName, string>> = {
  spot: 'Spot drill',
  drill: 'Drill',
  countersink: 'Countersink',
  counterbore: 'Counterbore',
  ream: 'Reamer',
  bore: 'Boring bar',
  tap: 'Tap',
};

/** A length of an operation. Never needed by itself: which operations there are decides. */
const length = (name: string, label: string, help: string, more: Partial<NumberParameter> = { above: 0 }): Parameter =>
  number(name, label, 'mm', help, more);
const angle = (name: string, label: string, help: string, fallback?: string): Parameter =>
  number(name, label, '°', help, { least: 30, most: 180, ...(fallback === undefined ? {} : { fallback }) });

const OWN: Readonly<Record<OperationName, readonly Parameter[]>> = {
  spot: [
    length('diameter', 'Chamfer', 'Diameter of the spot at the top. Left out: a little over the hole that follows.'),
    angle('angle', 'Spot angle', 'Point angle. Left out: 120, or 142 for a drill of more; at least that of the drill.'),
  ],
  drill: [
    length('diameter', 'Drill', 'Diameter. Left out: the drill for the tap or the reamer that follows.'),
    length(
      'depth',
      'Full depth',
      'How deep the hole has its full diameter; the point goes deeper by itself. Left out: as the tap, reamer or bar needs it.',
    ),
    angle('angle', 'Point angle', 'Point angle of the drill.', '118'),
    length('peck', 'Peck', 'Depth of one peck; 0 drills in one go. Left out: by depth and diameter.', { least: 0 }),
    yesNo('through', 'Through', 'The hole goes through, and the drill’s whole point comes out below.'),
    length('breakout', 'Breakout', 'How far the full diameter goes beyond a through hole. Left out: 0.5 to 1 mm.', {
      least: 0,
    }),
  ],
  countersink: [
    length('diameter', 'Countersink', 'Diameter of the countersink at the top.'),
    angle('angle', 'Sink angle', 'Whole angle of the countersink.', '90'),
    length('tip', 'Flat tip', 'Diameter of the flat at the countersink’s tip.', { least: 0, fallback: '0' }),
  ],
  counterbore: [
    length('diameter', 'Counterbore', 'Diameter of the counterbore.'),
    length('depth', 'Depth', 'Depth of its floor below the top.'),
  ],
  ream: [
    length('diameter', 'Reamer', 'Diameter of the reamer.'),
    length(
      'depth',
      'Depth',
      'Depth that the reamer’s end goes to. Left out: 1 mm less than the drill, or through with it.',
    ),
  ],
  bore: [
    length('diameter', 'Bore', 'Diameter that the bar is set to.'),
    length('depth', 'Depth', 'Depth of the bore. Left out: 1 mm less than the drill, or through with it.'),
    choice(
      'cycle',
      'Cycle',
      '85 feeds out, 89 waits and feeds out, 86 stops the spindle and leaves at rapid, 76 moves the tip off the wall first.',
      [
        ['85', 'G85: feed out'],
        ['86', 'G86: stop, rapid out'],
        ['89', 'G89: wait, feed out'],
        ['76', 'G76: off the wall, rapid out'],
      ],
    ),
    length('shift', 'Off the wall', 'How far G76 moves the tip off the wall before the way out.', {
      above: 0,
      fallback: '0.2',
      onlyWith: { name: 'cycle', values: ['76'] },
    }),
  ],
  tap: TAP_PARAMETERS.map(ofTap),
};

/** As of a thread that is tapped alone; but the drill decides whether it goes through where nothing is said. */
function ofTap(parameter: Parameter): Parameter {
  if (parameter.name !== 'hole') return parameter;
  const { fallback: _, ...rest } = parameter;
  return { ...rest, help: 'Blind, or through the work. Left out: as the drill goes.' };
}

const TOOL_HELP = 'Changes to this tool first. Every operation but the first needs its own.';

const toolParameters = (operation: OperationName): readonly Parameter[] => [
  number('tool-number', 'Tool number', '', TOOL_HELP, { whole: true, least: 0, most: 9999 }),
  number('speed', 'Speed', 'rev/min', 'Spindle speed. Left out: from the material.', { above: 0 }),
  // A tap's feed follows from speed and pitch.
  ...(operation === 'tap'
    ? []
    : [number('feed', 'Feed', 'mm/min', 'Feed. Left out: from what is usual for the tool.', { above: 0 })]),
];

const parametersOf = (operation: OperationName): readonly Parameter[] =>
  [...OWN[operation], ...toolParameters(operation)].map(
    (parameter): Parameter => ({
      ...parameter,
      name: `${operation}.${parameter.name}`,
      needed: false,
      group: GROUPS[operation],
    }),
  );

const OPERATIONS_PARAMETER: Parameter = {
  kind: 'choices',
  name: 'operations',
  label: 'Operations',
  help: 'What is done to all holes, one after the other, such as spot,drill,tap.',
  choices: OPERATIONS.map(([value, label]) => ({ value, label })),
  fallback: 'drill',
  group: 'How',
};

const BETWEEN: Parameter = {
  ...choice(
    'between',
    'Between holes',
    'Goes from hole to hole at the retract level (G98) or only at the clearance (G99).',
    [
      ['retract', 'Retract level (G98)'],
      ['clearance', 'Clearance (G99)'],
    ],
  ),
  group: 'How',
};

const FORM: readonly Parameter[] = [
  {
    ...choice(
      'form',
      'Form',
      'Every place in the block; or calls of a subprogram (M98) that has the places behind the first; or that subprogram itself, to stand behind the program’s end.',
      [
        ['cycles', 'All places in the block'],
        ['calls', 'Calls of a subprogram (M98)'],
        ['places', 'The subprogram with the places (O … M99)'],
      ],
    ),
    group: 'How',
  },
  {
    ...programNumber('Number behind O of the subprogram with the places; the same for the calls and the subprogram.'),
    group: 'How',
    onlyWith: { name: 'form', values: ['calls', 'places'] },
  },
];

/** The block's speed, feed and tool number hold for the first operation. */
const SHARED: readonly Parameter[] = SPEED_AND_FEED.map(
  (parameter): Parameter =>
    OF_THE_FIRST.includes(parameter.name)
      ? { ...parameter, help: `${parameter.help} For the first operation, where it has none of its own.` }
      : parameter,
);

/** Clearance of a drill where none is given, mm. */
export const USUAL_CLEARANCE = 2;

/** Without a default of its own, since a tap takes more where none is given. */
const HOLES_CLEARANCE = number(
  'clearance',
  'Clearance',
  'mm',
  'Height above the top where feed begins. Left out: 2 mm, and for a tap what its holder needs.',
  { above: 0, group: 'Levels' },
);

/** All parameters of the block, in the order of the form. */
export const HOLE_PARAMETERS: readonly Parameter[] = [
  OPERATIONS_PARAMETER,
  ...PLACE_PARAMETERS,
  ...OPERATIONS.flatMap(([operation]) => parametersOf(operation)),
  ...SHARED,
  BETWEEN,
  ...FORM,
  TOP,
  HOLES_CLEARANCE,
  RETRACT,
];
