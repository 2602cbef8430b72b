/**
 * The schema of `blockwright.json`: the one source of what the file may hold. `server/schema/blockwright.schema.json`,
 * which editors read, is written from it and held to it by a test.
 */
import type { Schema } from './jsonSchema.ts';
import { AXES } from './machinePosition.ts';
import { PRESET_NAMES, PROFILE_SCHEMA } from './profileSchema.ts';
import { RULE_CODES } from './ruleCodes.ts';
import {
  atLeastZero,
  blank,
  choice,
  count,
  flag,
  group,
  list,
  number,
  numbers,
  positive,
  text,
  withDefault,
  withSnippets,
  word,
} from './schemaParts.ts';

const profile: Schema = {
  description: 'The control: a preset, a file with a profile, or a preset with what your control does differently.',
  default: 'iso',
  anyOf: [
    {
      ...text(
        `A preset (${PRESET_NAMES.map(([name]) => name).join(', ')}), or a file beside this one with a profile in it.`,
      ),
      examples: PRESET_NAMES.map(([name]) => name),
    },
    PROFILE_SCHEMA,
  ],
};

const holderKind = choice(
  'How the tap is held.',
  ['synchronised', 'rigid: spindle and feed run in step'],
  ['float', 'a holder with axial float'],
  ['reversing', 'a head that turns back by itself'],
);

const holder: Schema = group(
  'What holds the tap.',
  {
    kind: holderKind,
    float: atLeastZero('Float along the axis, in the unit of this file.'),
    selfFeed: atLeastZero('How far a reversing head runs on before it lets go, in the unit of this file.'),
    ratio: positive('How much faster a reversing head runs back, from its nameplate (1.75 is the commonest).'),
    freeUp: atLeastZero(
      'How far further out a reversing head must go until the tap is free, in the unit of this file.',
    ),
    torque: positive('Largest torque of the holder, N·m.'),
  },
  'kind',
);

const toolKind = choice(
  'What it is.',
  ['end-mill', 'end mill, slot drill'],
  ['ball-mill', 'ball nosed end mill'],
  ['face-mill', 'face mill, fly cutter'],
  ['drill', 'twist drill, insert drill'],
  ['spot-drill', 'spot drill'],
  ['centre-drill', 'centre drill'],
  ['countersink', 'countersink'],
  ['reamer', 'reamer'],
  ['tap', 'tap, cutting or forming'],
  ['thread-mill', 'thread mill'],
  ['boring-bar', 'boring bar or head'],
  ['chamfer-mill', 'chamfer or deburring cutter'],
  ['engraver', 'engraving cutter'],
  ['probe', 'touch probe or edge finder'],
  ['other', 'anything else: no check of its kind is made'],
);

const toolShape: Record<string, Schema> = {
  diameter: positive('Cutting diameter, in the unit of this file.'),
  cornerRadius: withDefault(atLeastZero('Radius of the corner, in the unit of this file.'), 0),
  tip: withDefault(atLeastZero('Diameter of the flat at the tip, in the unit of this file.'), 0),
  pointAngle: withDefault({ ...positive('Whole angle of the point, degrees.'), maximum: 180 }, 118),
  teeth: count('Number of cutting edges.', 1),
  length: positive(
    'From the spindle’s gauge line to the tip, in the unit of this file: what the H register holds and G43 adds. Only with it the machine position of Z is known under G43.',
  ),
  fluteLength: positive('Length that cuts, in the unit of this file.'),
  cuttingMaterial: choice('What it is made of.', ['hss', 'high-speed steel'], ['carbide', 'cemented carbide']),
  centreCutting: flag('It cuts at its centre, so that it may plunge.'),
  hand: withDefault(choice('Which way it cuts.', ['right', 'with M3'], ['left', 'with M4']), 'right'),
  rampLimit: { ...atLeastZero('Steepest ramp, degrees.'), maximum: 90 },
};

const toolUse: Record<string, Schema> = {
  lengthOffset: count('Its H register, where it is not the tool’s number.'),
  radiusOffset: count('Its D register, where it is not the tool’s number.'),
  thread: text('The thread that it cuts.', { examples: ['M6', 'M8x1', '1/4-20 UNC', 'G1/4'] }),
  forming: withDefault(flag('A tap that forms and does not cut.'), false),
  leadTurns: withDefault(atLeastZero('Turns of a tap’s lead.'), 3),
  holder,
};

const tool: Schema = group(
  'A tool.',
  {
    number: count('T number.'),
    kind: toolKind,
    description: text('What the shop calls it.'),
    ...toolShape,
    ...toolUse,
  },
  'number',
  'kind',
);

const tools = (description: string): Schema =>
  withSnippets(
    list(
      description,
      withSnippets(
        tool,
        {
          label: 'end mill',
          description: 'An end mill with its size',
          body: {
            number: blank(1),
            kind: 'end-mill',
            diameter: blank(2),
            teeth: blank(3),
            cuttingMaterial: word(4, 'carbide'),
          },
        },
        {
          label: 'drill',
          description: 'A drill with its size',
          body: { number: blank(1), kind: 'drill', diameter: blank(2), pointAngle: blank(3, 118) },
        },
        {
          label: 'tap',
          description: 'A tap, its thread and what holds it',
          body: { number: blank(1), kind: 'tap', thread: word(2, 'M6'), holder: { kind: word(3, 'synchronised') } },
        },
      ),
    ),
    {
      label: 'a first tool',
      description: 'A table with one tool',
      body: [{ number: blank(1, 1), kind: word(2, 'end-mill'), diameter: blank(3, 10) }],
    },
  );

const axis: Schema = withSnippets(
  group('One axis. Rotary axes (A B C) count degrees.', {
    min: number('Lowest machine position, in the unit of this file.'),
    max: number('Highest machine position, in the unit of this file.'),
    rapid: withDefault(positive('Rapid, in the unit of this file a minute (10,000 mm/min).'), 10_000),
    acceleration: withDefault(positive('Acceleration, mm/s² (degrees/s²).'), 1000),
    reference: number('Machine position of the reference point (G28), in the unit of this file.'),
  }),
  {
    label: 'travel',
    description: 'How far the axis goes, and where its reference point is',
    body: { min: blank(1), max: blank(2), reference: blank(3, 0) },
  },
);

const workOffsets: Schema = withSnippets(
  {
    type: 'object',
    description:
      'Where each work zero lies in machine coordinates, by offset: G54 to G59, G59.1 to G59.3, G54.1 P1 and up.',
    propertyNames: { pattern: '^G(5[4-9]|59\\.[1-3]|54\\.1 ?P[1-9][0-9]*)$' },
    additionalProperties: {
      type: 'object',
      description: 'The work zero in machine coordinates, by axis, in the unit of this file (degrees for A B C).',
      propertyNames: { enum: AXES },
      additionalProperties: number('Machine coordinate of the work zero.'),
    },
  },
  {
    label: 'G54',
    description: 'The zero of G54 in machine coordinates',
    body: { G54: { X: blank(1), Y: blank(2), Z: blank(3) } },
  },
);

const machine: Schema = group('The machine: what it can do, and where the work lies on it.', {
  axes: {
    type: 'object',
    description: 'The axes by letter.',
    propertyNames: { enum: AXES },
    additionalProperties: axis,
  },
  topFeed: positive('Highest feed, in the unit of this file a minute.'),
  topSpeed: positive('Highest spindle speed, rev/min.'),
  power: positive('Spindle power, kW.'),
  cornerTolerance: withDefault(
    atLeastZero('How far the control may round corners, in the unit of this file (0.05 mm).'),
    0.05,
  ),
  toolChange: withDefault(atLeastZero('Time of a tool change, s.'), 5),
  spindleRunUp: withDefault(atLeastZero('Time that the spindle needs to run up, s.'), 2),
  workOffsets,
});

const speedRange = (cutter: string): Schema =>
  numbers(`Lowest and highest cutting speed with ${cutter}, m/min.`, 2, { type: 'number', exclusiveMinimum: 0 });

const materials: Schema = withSnippets(
  {
    type: 'object',
    description: 'Materials by the name that the shop gives them.',
    additionalProperties: group('A material.', {
      kc11: positive('Specific cutting force of a chip of 1 mm by 1 mm, N/mm².'),
      mc: atLeastZero('How much the cutting force falls with the chip’s thickness (an exponent, mostly 0.2 to 0.3).'),
      cuttingSpeed: group('Cutting speeds.', {
        hss: speedRange('high-speed steel'),
        carbide: speedRange('cemented carbide'),
      }),
    }),
  },
  {
    label: 'a material',
    description: 'A name, and the cutting speeds that your shop uses',
    body: { [word(1, 'name')]: { cuttingSpeed: { hss: [blank(2), blank(3)], carbide: [blank(4), blank(5)] } } },
  },
);

const materialName = text('The material in force: one of the names in "materials".');

const stock: Schema = withSnippets(
  group(
    'The blank, in work coordinates and the unit of this file.',
    {
      offset: withDefault(
        {
          ...text('The work offset that its positions count from.'),
          examples: ['G54', 'G55', 'G54.1 P1'],
        },
        'G54',
      ),
      shape: choice('Its shape.', ['box', 'needs min and max'], ['cylinder', 'needs diameter, centre, top and bottom']),
      min: numbers('Lowest corner of a box: X, Y, Z.', 3),
      max: numbers('Highest corner of a box: X, Y, Z.', 3),
      diameter: positive('Diameter of a cylinder; it stands along Z.'),
      centre: numbers('Centre of a cylinder: X, Y.', 2),
      top: number('Z of a cylinder’s top.'),
      bottom: number('Z of a cylinder’s bottom.'),
    },
    'shape',
  ),
  {
    label: 'box',
    description: 'A rectangular blank',
    body: {
      shape: 'box',
      min: [blank(1, 0), blank(2, 0), blank(3, -20)],
      max: [blank(4, 100), blank(5, 60), blank(6, 0)],
    },
  },
  {
    label: 'cylinder',
    description: 'A round blank',
    body: {
      shape: 'cylinder',
      diameter: blank(1, 50),
      centre: [blank(2, 0), blank(3, 0)],
      top: blank(4, 0),
      bottom: blank(5, -20),
    },
  },
);

const rules: Schema = {
  type: 'object',
  description: 'How much a finding weighs, by the rule’s code as it stands behind the finding.',
  propertyNames: { enum: RULE_CODES },
  additionalProperties: choice(
    'How much a finding of this rule weighs.',
    ['error', 'the control will stop, or something will be hurt'],
    ['warning', 'almost surely not meant'],
    ['hint', 'worth a look'],
    ['off', 'not shown'],
  ),
};

const programs: Schema = withSnippets(
  {
    type: 'object',
    description:
      'What holds for some programs only, by pattern: "bracket-*.nc" is a file’s name in any folder, "fixtures/**/*.nc" a path from this file’s folder. * is anything in a name, ** any folders, ? one character, {a,b} one of both. Capitals do not matter. Where several fit, the later one goes before the earlier.',
    additionalProperties: group('What holds for these programs.', {
      profile: { ...profile, description: 'The control that these programs are for.' },
      material: materialName,
      stock,
      tools: tools('Tools of these programs: a number that the table above has too is replaced whole.'),
      rules,
    }),
  },
  {
    label: 'programs by name',
    description: 'The blank of one part’s programs',
    body: {
      [word(1, 'bracket-*.nc')]: {
        stock: {
          shape: 'box',
          min: [blank(2, 0), blank(3, 0), blank(4, -20)],
          max: [blank(5, 100), blank(6, 60), blank(7, 0)],
        },
      },
    },
  },
);

/** The schema of the whole file. */
export const CONFIGURATION_SCHEMA: Schema = {
  $schema: 'http://json-schema.org/draft-07/schema#',
  title: 'Blockwright: the shop’s own file',
  ...group('The shop’s own file. The nearest blockwright.json upward from a program holds for it, whole.', {
    version: withDefault(choice('The form of this file.', 1), 1),
    units: withDefault(
      choice(
        'Unit of the lengths and feeds in this file, whatever the programs use.',
        ['mm', 'mm, mm/min'],
        ['inch', 'inch, inch/min'],
      ),
      'mm',
    ),
    profile,
    blockDelete: withDefault(
      choice('What happens to blocks that start with /.', ['execute', 'they are read'], ['skip', 'they are left out']),
      'execute',
    ),
    blockNumbers: group('Block numbers (N) in generated blocks.', {
      write: withDefault(flag('Write them.'), false),
      start: withDefault(count('The first number.'), 10),
      step: withDefault(count('From one to the next.', 1), 10),
    }),
    limits: group('Where executing a program is given up.', {
      steps: withDefault(count('Blocks executed.', 1), 50_000_000),
      depth: withDefault(count('Calls within calls.', 1), 32),
      moves: withDefault(count('Moves kept.', 1), 5_000_000),
      seconds: withDefault(positive('Time, s.'), 60),
    }),
    machine,
    tools: tools('The tool table.'),
    materials,
    material: materialName,
    stock,
    holder: { ...holderKind, description: 'The holder that is assumed for a tap whose own is not known.' },
    rules,
    programs,
  }),
};
