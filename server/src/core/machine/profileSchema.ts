/** The schema of a control profile: every field of `ControlProfile` in the words of the trade. */
import type { Schema } from './jsonSchema.ts';
import { type ControlProfile, DEFAULT_PROFILE, PROFILES } from './profile.ts';
import {
  atLeastZero,
  choice,
  count,
  flag,
  group,
  list,
  positive,
  withDefault,
  withSnippets,
  word,
} from './schemaParts.ts';

/** A field without the name, which a profile of its own does not have. */
type ProfileField = Exclude<keyof ControlProfile, 'name'>;

const numbering: Record<
  | 'decimalPoint'
  | 'dwell'
  | 'units7071'
  | 'feedBeforeUnits'
  | 'characterSet'
  | 'remarks'
  | 'lineLength'
  | 'sequenceNumberMax'
  | 'maxM'
  | 'maxG'
  | 'colon',
  Schema
> = {
  decimalPoint: choice(
    'What a number without a decimal point counts.',
    ['whole-unit', 'X10 is 10 mm or 10 inch'],
    ['increment', 'X10 is ten of the smallest increments: 0.010 mm or 0.0010 inch'],
  ),
  dwell: choice(
    'What P of G4 and of the cycles counts.',
    ['seconds', 'always seconds'],
    ['point-decides', 'with a point seconds; a whole number of 50 and more milliseconds, below that seconds'],
    ['milliseconds', 'milliseconds'],
  ),
  units7071: flag('G70 and G71 are inch and mm.'),
  feedBeforeUnits: flag('F is read before G20 or G21 of its own block.'),
  characterSet: choice(
    'Which characters a program may hold.',
    ['ascii', 'printable ASCII only, in remarks too'],
    ['ascii-outside-remarks', 'anything in remarks, printable ASCII elsewhere'],
  ),
  remarks: group('Which remarks the control takes.', {
    brackets: flag('( … )'),
    semicolon: flag('; to the end of the line'),
    slashes: flag('// at the start of a block'),
  }),
  lineLength: count('Longest block in characters.', 1),
  sequenceNumberMax: count('Largest sequence number (N).', 1),
  maxM: count('Most M words in a block.', 1),
  maxG: count('Most G words in a block.', 1),
  colon: choice(
    'What :12 at the start of a block is.',
    ['program-number', 'a program number, as O12'],
    ['alignment', 'the alignment block, in the place of N'],
  ),
};

const codes: Record<
  | 'order'
  | 'groupConflict'
  | 'mirrorCodes'
  | 'withoutCodes'
  | 'extraG'
  | 'extraM'
  | 'toolChange'
  | 'synchronisedTappingCode'
  | 'start',
  Schema
> = {
  order: choice(
    'Order of the actions in a block.',
    ['report', 'that of the public report on RS274/NGC: M5 and M9 before the motion'],
    ['iso', 'that of ISO 6983: M3 M4 M7 M8 with the motion, M5 and M9 after it'],
  ),
  groupConflict: choice(
    'Two codes of one group in a block.',
    ['error', 'the control stops'],
    ['last-holds', 'the last one holds'],
  ),
  mirrorCodes: flag('G51.1 mirrors, G50.1 takes it back.'),
  withoutCodes: list(
    'G codes times ten that this control does not know: 730 is G73, 591 is G59.1.',
    count('G times ten'),
  ),
  extraG: list('Further G codes times ten that this control knows; they are not executed here.', count('G times ten')),
  extraM: list('Further M codes that this control knows; they are not executed here.', count('M number')),
  toolChange: choice(
    'What M6 T3 in one block changes to.',
    ['same-block', 'to tool 3'],
    ['called-before', 'to the tool that T called before; T3 then waits for the next M6'],
  ),
  synchronisedTappingCode: count('M code that prepares synchronised tapping before G84; -1 for none.', -1),
  start: group('What holds at power-on.', {
    motion: choice('G0 or G1, as G number times ten; -1 for none.', -1, 0, 10),
    plane: choice('The plane.', [17, 'XY'], [18, 'ZX'], [19, 'YZ']),
    distance: choice('How coordinates count.', [90, 'absolute'], [91, 'incremental']),
    units: choice('The unit.', [20, 'inch'], [21, 'mm']),
    feedMode: choice('What F counts.', [93, '1/min'], [94, 'a minute'], [95, 'a turn']),
    retract: choice('How far cycles come out.', [98, 'to where they began'], [99, 'to R']),
    offset: choice('The work offset, as G number times ten.', 540, 550, 560, 570, 580, 590, 591, 592, 593),
  }),
};

const motion: Record<
  | 'radiusAndCentre'
  | 'arcTolerance'
  | 'turns'
  | 'helixFeed'
  | 'feedKeptAcrossModes'
  | 'leadWord'
  | 'cyclesAreMotion'
  | 'repeats'
  | 'peckRetract'
  | 'cycle87'
  | 'offsetRegister'
  | 'outsideCorner'
  | 'lengthRegisterFree',
  Schema
> = {
  radiusAndCentre: choice(
    'G2 or G3 with R and centre words in one block.',
    ['error', 'the control stops'],
    ['radius-holds', 'R holds'],
  ),
  arcTolerance: group(
    'Largest difference between an arc’s radius at its start and at its end; the largest of the three holds.',
    {
      mm: positive('In programs in mm, mm, whatever the unit of this file.'),
      inch: positive('In programs in inch, inch, whatever the unit of this file.'),
      places: atLeastZero('In last places as the arc’s words are written; 0 leaves the places out.'),
    },
    'mm',
    'inch',
    'places',
  ),
  turns: group(
    'How an arc of several turns is written.',
    {
      letter: choice('The letter that gives the number of turns.', 'P', 'L', 'none'),
      counts: choice('What it counts.', ['turns', 'the part turn as one'], ['extra', 'turns beyond the first']),
    },
    'letter',
    'counts',
  ),
  helixFeed: choice(
    'F of a helix runs',
    ['space', 'along the path in space'],
    ['plane', 'along the circle in the plane'],
  ),
  feedKeptAcrossModes: flag('F is kept when G94 and G95 change.'),
  leadWord: choice('The word that gives the lead of G33.', 'F', 'K'),
  cyclesAreMotion: flag('A drilling cycle belongs to the same group as G0 and G1.'),
  repeats: choice('The letter that repeats a cycle.', 'L', 'K', 'both'),
  peckRetract: positive('Short retract of G73, and how far above the last depth G83 goes back by rapid.'),
  cycle87: choice('What G87 does.', ['back-boring', 'bores from below'], ['manual-out', 'stops; out by hand']),
  offsetRegister: choice('What a D register holds.', 'radius', 'diameter'),
  outsideCorner: choice(
    'How radius compensation goes round an outside corner.',
    ['arc', 'by an arc round the corner'],
    ['extended-lines', 'by lines that go on until they meet'],
  ),
  lengthRegisterFree: flag('H may differ from T without a word.'),
};

const macros: Record<
  | 'flow'
  | 'unsetVariable'
  | 'assignments'
  | 'rounding'
  | 'andBinds'
  | 'subprogramRepeats'
  | 'localCallCode'
  | 'systemVariables',
  Schema
> = {
  flow: flag('Jumps, loops, conditions, subprograms and G65 are understood.'),
  unsetVariable: choice('A variable that was never set', ['empty', 'holds nothing'], ['zero', 'is 0']),
  assignments: choice(
    'When the assignments of a block take effect.',
    ['after-block', 'after all of the block was read'],
    ['at-once', 'at once, for what follows in the block'],
  ),
  rounding: choice(
    'How FIX and FUP round.',
    ['floor-ceiling', 'down and up: FIX[-2.5] is -3'],
    ['toward-zero', 'toward and away from zero: FIX[-2.5] is -2'],
  ),
  andBinds: choice('How strong AND is in an expression.', ['product', 'as *'], ['sum', 'as +']),
  subprogramRepeats: choice(
    'How M98 repeats.',
    ['L', 'M98 P1000 L3 runs O1000 three times'],
    ['first-digits', 'M98 P0031000 runs O1000 three times'],
  ),
  localCallCode: count('M code that calls a sequence number of the same program; -1 for none.', -1),
  systemVariables: choice(
    'Which numbered variables hold the machine’s own values.',
    ['report', '5161 to 5390, as in the public report on RS274/NGC'],
    ['macro', 'those that are common on macro controls'],
  ),
};

const fields: Record<ProfileField, Schema> = { ...numbering, ...codes, ...motion, ...macros };

const shown = (value: unknown): string =>
  typeof value === 'object' && value !== null
    ? Object.entries(value)
        .map(([key, one]) => `${key} ${one}`)
        .join(', ')
    : String(value);

/** The field with what the presets have, so that nobody has to look it up elsewhere. */
function withPresets(field: ProfileField, schema: Schema): Schema {
  const isList = schema.type === 'array';
  const presets = Object.values(PROFILES).map((preset) => `${preset.name}: ${shown(preset[field])}`);
  const { description = '' } = schema;
  const told = isList ? description : `${description}\n\nPresets: ${presets.join('; ')}.`;
  return withDefault({ ...schema, description: told }, DEFAULT_PROFILE[field]);
}

const described = Object.fromEntries(
  (Object.entries(fields) as [ProfileField, Schema][]).map(([field, schema]) => [field, withPresets(field, schema)]),
);

const presetWords: Readonly<Record<string, string>> = {
  iso: 'ISO 6983, lenient: whole units, flow, P turns, L or K repeats',
  rs274ngc: 'the public report on RS274/NGC, strictly',
  'iso-macro': 'increments without a point, milliseconds, repeats in the first digits of P',
};

/** The presets' names with their words. */
export const PRESET_NAMES: readonly (readonly [string, string])[] = Object.keys(PROFILES).map((name) => [
  name,
  presetWords[name] ?? '',
]);

/** A profile as an object: a preset to start from and the fields that differ. */
export const PROFILE_SCHEMA: Schema = withSnippets(
  group('What this control does differently from a preset.', {
    base: withDefault(choice('The preset to start from.', ...PRESET_NAMES), DEFAULT_PROFILE.name),
    ...described,
  }),
  {
    label: 'preset with a difference',
    description: 'A preset, and what your control does differently',
    body: { base: word(1, 'iso'), offsetRegister: word(2, 'diameter') },
  },
);
