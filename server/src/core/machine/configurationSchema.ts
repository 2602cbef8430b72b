/**
 * The schema of `blockwright.json`: the one source of what the file may hold. `server/schema/blockwright.schema.json`,
 * which editors read, is written from it and held to it by a test.
 */
import type { Schema } from './jsonSchema.ts';
import { PROFILES } from './profile.ts';
import { RULE_CODES } from './ruleCodes.ts';

const text = (description: string): Schema => ({ type: 'string', minLength: 1, description });
const choice = (description: string, ...values: (string | number)[]): Schema => ({ enum: values, description });
const flag = (description: string): Schema => ({ type: 'boolean', description });
const number = (description: string): Schema => ({ type: 'number', description });
const atLeastZero = (description: string): Schema => ({ type: 'number', minimum: 0, description });
const positive = (description: string): Schema => ({ type: 'number', exclusiveMinimum: 0, description });
const count = (description: string, minimum = 0): Schema => ({ type: 'integer', minimum, description });
const group = (description: string, properties: Record<string, Schema>, ...required: string[]): Schema => ({
  type: 'object',
  description,
  properties,
  ...(required.length > 0 ? { required } : {}),
  additionalProperties: false,
});
const list = (description: string, items: Schema): Schema => ({ type: 'array', description, items });
const point = (description: string): Schema => ({ ...list(description, { type: 'number' }), minItems: 3, maxItems: 3 });

const profileFields: Record<string, Schema> = {
  decimalPoint: choice('X10 is ten whole units, or ten of the smallest increments.', 'whole-unit', 'increment'),
  dwell: choice('What P of G4 counts.', 'seconds', 'point-decides', 'milliseconds'),
  order: choice('Order of the actions in a block.', 'report', 'iso'),
  cyclesAreMotion: flag('A canned cycle belongs to the motion group.'),
  groupConflict: choice('Two codes of one group in a block.', 'error', 'last-holds'),
  radiusAndCentre: choice('G2 or G3 with R and centre words.', 'error', 'radius-holds'),
  arcTolerance: group(
    'Largest difference of an arc’s radius at start and end: in mm, in inch, and in last places as written.',
    {
      mm: positive('mm, whatever the units of this file.'),
      inch: positive('inch'),
      places: atLeastZero('last places'),
    },
    'mm',
    'inch',
    'places',
  ),
  turns: group(
    'The letter that gives the number of turns of an arc, and what it counts.',
    {
      letter: choice('The letter.', 'P', 'L', 'none'),
      counts: choice('Turns with the part turn as one, or extra turns.', 'turns', 'extra'),
    },
    'letter',
    'counts',
  ),
  repeats: choice('The letter that repeats a cycle.', 'L', 'K', 'both'),
  peckRetract: positive('Short retract of G73 and way above the last depth of G83.'),
  cycle87: choice('What G87 does.', 'back-boring', 'manual-out'),
  helixFeed: choice('F of a helix runs along the path in space, or in the plane.', 'space', 'plane'),
  feedKeptAcrossModes: flag('F is kept when G94 and G95 change.'),
  leadWord: choice('Lead word of G33.', 'F', 'K'),
  colon: choice('What `:12` is.', 'program-number', 'alignment'),
  toolChange: choice(
    'M6 T3 in one block changes to T3, or to the tool that was called before.',
    'same-block',
    'called-before',
  ),
  unsetVariable: choice('A variable that was never set holds nothing, or 0.', 'empty', 'zero'),
  assignments: choice('When the assignments of a block take effect.', 'after-block', 'at-once'),
  rounding: choice('How FIX and FUP round.', 'floor-ceiling', 'toward-zero'),
  andBinds: choice('AND binds like * or like +.', 'product', 'sum'),
  flow: flag('Jumps, loops, conditions and G65 are understood.'),
  subprogramRepeats: choice(
    'M98 repeats by L, or by the digits before the last four of P: P0031000 runs O1000 three times.',
    'L',
    'first-digits',
  ),
  localCallCode: count('M code that calls a sequence number of the same program; -1 for none.', -1),
  systemVariables: choice('Which numbered variables hold the machine’s own values.', 'report', 'macro'),
  feedBeforeUnits: flag('F is read before G20 or G21 of its own block.'),
  units7071: flag('G70 and G71 are inch and mm.'),
  mirrorCodes: flag('G50.1 and G51.1 mirror.'),
  offsetRegister: choice('A D number holds a radius or a diameter.', 'radius', 'diameter'),
  outsideCorner: choice('Outside corners of radius compensation.', 'arc', 'extended-lines'),
  synchronisedTappingCode: count('M code that prepares synchronised tapping before G84; -1 for none.', -1),
  lengthRegisterFree: flag('H may differ from T without a word.'),
  withoutCodes: list('G codes times ten that the control does not know.', count('G times ten')),
  extraG: list('Further G codes times ten that the control knows.', count('G times ten')),
  extraM: list('Further M codes that the control knows.', count('M')),
  remarks: group('Which remarks the control takes.', {
    brackets: flag('( … )'),
    semicolon: flag('; to the end of the line'),
    slashes: flag('// at the start of a block'),
  }),
  characterSet: choice('Which characters a program may hold.', 'ascii', 'ascii-outside-remarks'),
  lineLength: count('Longest block in characters.', 1),
  sequenceNumberMax: count('Largest sequence number.', 1),
  maxM: count('Most M words in a block.', 1),
  maxG: count('Most G words in a block.', 1),
  start: group('Modes at power-on.', {
    motion: choice('G number times ten; -1 for none.', -1, 0, 10),
    plane: choice('Plane.', 17, 18, 19),
    distance: choice('Absolute or incremental.', 90, 91),
    units: choice('20 inch, 21 mm.', 20, 21),
    feedMode: choice('Feed mode.', 93, 94, 95),
    retract: choice('Retract level of cycles.', 98, 99),
    offset: choice('G number times ten.', 540, 550, 560, 570, 580, 590, 591, 592, 593),
  }),
};

/** A profile as an object: a preset to start from and the fields that differ. */
export const PROFILE_SCHEMA: Schema = group('What this control does differently from a preset.', {
  base: choice('The preset to start from (iso).', ...Object.keys(PROFILES)),
  ...profileFields,
});

const profile: Schema = {
  description:
    'The control: a preset, a file with a profile, or an object with a base and the fields that differ (iso).',
  default: 'iso',
  anyOf: [text(`A preset (${Object.keys(PROFILES).join(', ')}) or the name of a file.`), PROFILE_SCHEMA],
};

const holderKind = choice('How the tap is held.', 'synchronised', 'float', 'reversing');

const tool: Schema = group(
  'A tool.',
  {
    number: count('T number.'),
    kind: choice(
      'What it is.',
      'end-mill',
      'ball-mill',
      'face-mill',
      'drill',
      'spot-drill',
      'centre-drill',
      'countersink',
      'reamer',
      'tap',
      'thread-mill',
      'boring-bar',
      'chamfer-mill',
      'engraver',
      'probe',
      'other',
    ),
    description: text('What the shop calls it.'),
    diameter: positive('Cutting diameter.'),
    cornerRadius: atLeastZero('Corner radius (0).'),
    tip: atLeastZero('Diameter of the flat at the tip (0).'),
    pointAngle: { ...positive('Angle of the point in degrees (118).'), maximum: 180 },
    teeth: count('Number of cutting edges.', 1),
    length: positive('Length out of the holder.'),
    fluteLength: positive('Length that cuts.'),
    cuttingMaterial: choice('What it is made of.', 'hss', 'carbide'),
    centreCutting: flag('Cuts at its centre, so that it may plunge.'),
    hand: choice('Cutting direction (right).', 'right', 'left'),
    rampLimit: { ...atLeastZero('Steepest ramp in degrees.'), maximum: 90 },
    lengthOffset: count('H register.'),
    radiusOffset: count('D register (same as the number).'),
    thread: text('The thread that it cuts, such as M6 or 1/4-20 UNC.'),
    forming: flag('A tap that forms and does not cut (false).'),
    leadTurns: atLeastZero('Turns of the lead (3).'),
    holder: group(
      'What holds the tap.',
      {
        kind: holderKind,
        float: atLeastZero('Float along the axis.'),
        selfFeed: atLeastZero('Way that a reversing head runs on before it lets go.'),
        ratio: positive('How much faster a reversing head runs back, from its nameplate.'),
        freeUp: atLeastZero('Way out that frees the tap.'),
        torque: positive('Largest torque, N·m.'),
      },
      'kind',
    ),
  },
  'number',
  'kind',
);

const axis: Schema = group('One axis.', {
  min: number('Lowest machine position.'),
  max: number('Highest machine position.'),
  rapid: positive('Rapid (10000 mm/min).'),
  acceleration: positive('Acceleration, mm/s² (1000).'),
  reference: number('Machine position of the reference point.'),
});

const machine: Schema = group('The machine.', {
  axes: {
    type: 'object',
    description: 'Axes by letter.',
    propertyNames: { enum: ['X', 'Y', 'Z', 'A', 'B', 'C', 'U', 'V', 'W'] },
    additionalProperties: axis,
  },
  topFeed: positive('Highest feed.'),
  topSpeed: positive('Highest spindle speed, rev/min.'),
  power: positive('Spindle power, kW.'),
  cornerTolerance: atLeastZero('How far corners may be rounded (0.05).'),
  toolChange: atLeastZero('Time of a tool change, s (5).'),
  spindleRunUp: atLeastZero('Time of a spindle start, s (2).'),
  workOffsets: {
    type: 'object',
    description: 'Work offsets: machine position of each work zero.',
    propertyNames: { pattern: '^G(5[4-9]|59\\.[1-3]|54\\.1 ?P[0-9]+)$' },
    additionalProperties: {
      type: 'object',
      propertyNames: { enum: ['X', 'Y', 'Z', 'A', 'B', 'C', 'U', 'V', 'W'] },
      additionalProperties: { type: 'number' },
    },
  },
});

const speedRange: Schema = {
  ...list('Lowest and highest, m/min.', { type: 'number', exclusiveMinimum: 0 }),
  minItems: 2,
  maxItems: 2,
};
const materials: Schema = {
  type: 'object',
  description: 'Materials by name.',
  additionalProperties: group('A material.', {
    kc11: positive('Specific cutting force, N/mm².'),
    mc: atLeastZero('Exponent of the chip thickness.'),
    cuttingSpeed: group('Cutting speeds.', { hss: speedRange, carbide: speedRange }),
  }),
};

const stock: Schema = group('The blank.', {
  offset: text('The work offset its positions count from (G54).'),
  shape: choice('Its shape.', 'box', 'cylinder'),
  min: point('Lowest corner of a box.'),
  max: point('Highest corner of a box.'),
  diameter: positive('Diameter of a cylinder.'),
  centre: { ...list('Centre of a cylinder.', { type: 'number' }), minItems: 2, maxItems: 2 },
  top: number('Top of a cylinder.'),
  bottom: number('Bottom of a cylinder.'),
});

const rules: Schema = {
  type: 'object',
  description: 'How much a finding weighs, by the rule’s code.',
  propertyNames: { enum: RULE_CODES },
  additionalProperties: { enum: ['error', 'warning', 'hint', 'off'] },
};

/** The schema of the whole file. */
export const CONFIGURATION_SCHEMA: Schema = {
  $schema: 'http://json-schema.org/draft-07/schema#',
  title: 'Blockwright: the shop’s own file',
  ...group('The nearest blockwright.json upward from a program holds for it.', {
    version: choice('Version of this file’s form (1).', 1),
    units: choice('Unit of the lengths and feeds in this file (mm).', 'mm', 'inch'),
    profile,
    blockDelete: choice('What happens to blocks that start with / (execute).', 'execute', 'skip'),
    blockNumbers: group('Block numbers of generated blocks.', {
      write: flag('Write them (false).'),
      start: count('First number (10).'),
      step: count('Step (10).', 1),
    }),
    limits: group('Limits of a run.', {
      steps: count('Blocks executed (50,000,000).', 1),
      depth: count('Depth of calls (32).', 1),
      moves: count('Moves kept (5,000,000).', 1),
      seconds: positive('Time, s (60).'),
    }),
    machine,
    tools: list('The tool table.', tool),
    materials,
    material: text('The name of the material in force.'),
    stock,
    holder: { ...holderKind, description: 'The holder assumed for a tap whose holder is not known.' },
    rules,
    programs: {
      type: 'object',
      description: 'File pattern, and what holds for those programs only.',
      additionalProperties: group('What holds for these programs.', {
        profile,
        material: text('The name of the material.'),
        stock,
        tools: list('Tools, merged by number.', tool),
        rules,
      }),
    },
  }),
};
