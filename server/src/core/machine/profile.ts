/**
 * The control profile: everything that controls do differently, as one object. Presets: `iso` (lenient default),
 * `rs274ngc` (the public RS274/NGC report, NIST IR 6556, strictly), `iso-macro` (increments, milliseconds).
 * Facts restated from memory of ISO 6983-1, DIN 66025, EIA RS-274-D and the report.
 */

/** Everything that controls do differently. */
export interface ControlProfile {
  readonly name: string;
  /** X10 is ten whole units, or ten of the smallest increments (0.001 mm, 0.0001 in). */
  readonly decimalPoint: 'whole-unit' | 'increment';
  /** What P of G4 counts: seconds; seconds with a point and milliseconds for whole numbers of 50 and more; milliseconds. */
  readonly dwell: 'seconds' | 'point-decides' | 'milliseconds';
  /** Order of the actions in a block: the report's, or ISO 6983's (M5 M9 after the motion). */
  readonly order: 'report' | 'iso';
  /** A canned cycle belongs to the motion group (the report) or to a group of its own. */
  readonly cyclesAreMotion: boolean;
  /** Two codes of one group in a block: an error, or the last one holds. */
  readonly groupConflict: 'error' | 'last-holds';
  /** G2/G3 with R and centre words: an error, or R holds. */
  readonly radiusAndCentre: 'error' | 'radius-holds';
  /** Largest difference of an arc's radius at start and end: fixed mm and inch, or grown by the places written. */
  readonly arcTolerance: { readonly mm: number; readonly inch: number; readonly places: number };
  /** The letter that gives the number of turns of an arc, and whether it counts turns with the part turn as one, or extra turns. */
  readonly turns: { readonly letter: 'P' | 'L' | 'none'; readonly counts: 'turns' | 'extra' };
  /** The letter that repeats a cycle. */
  readonly repeats: 'L' | 'K' | 'both';
  /** Short retract of G73 and way above the last depth of G83, mm. */
  readonly peckRetract: number;
  /** 87 is back boring (the report), or spindle stop and manual out. */
  readonly cycle87: 'back-boring' | 'manual-out';
  /** F of a helix runs along the path in space, or in the plane. */
  readonly helixFeed: 'space' | 'plane';
  /** F is kept when G94/G95 changes. */
  readonly feedKeptAcrossModes: boolean;
  /** Lead word of G33. */
  readonly leadWord: 'F' | 'K';
  /** `:12` is a program number, or stands in the place of N. */
  readonly colon: 'program-number' | 'alignment';
  /** M6 T3 in one block changes to T3, or to the tool that T called before. */
  readonly toolChange: 'same-block' | 'called-before';
  /** Reading a variable that was never set: it holds nothing, or 0. */
  readonly unsetVariable: 'empty' | 'zero';
  /** Assignments of one block take effect after the block's reads (the report), or at once. */
  readonly assignments: 'after-block' | 'at-once';
  /** FIX and FUP are floor and ceiling (the report), or toward and away from zero. */
  readonly rounding: 'floor-ceiling' | 'toward-zero';
  /** AND binds like `*` (macro controls), or like `+` (the report). */
  readonly andBinds: 'product' | 'sum';
  /** Flow statements and G65 are understood. */
  readonly flow: boolean;
  /** M98 repeats by L, or by the digits before the last four of P (P0031000 runs O1000 three times). */
  readonly subprogramRepeats: 'L' | 'first-digits';
  /** M code that calls a sequence number of the same program, −1 none. */
  readonly localCallCode: number;
  /** Which numbered variables hold the machine's own values: the report's (5161–5390), or those common on macro controls. */
  readonly systemVariables: 'report' | 'macro';
  /** F word read before G20/G21 of its own block (the report, literally). */
  readonly feedBeforeUnits: boolean;
  /** G70/G71 are inch and mm. */
  readonly units7071: boolean;
  /** G50.1/G51.1 mirror. */
  readonly mirrorCodes: boolean;
  /** D number holds a radius or a diameter. */
  readonly offsetRegister: 'radius' | 'diameter';
  /** Outside corners of radius compensation. */
  readonly outsideCorner: 'arc' | 'extended-lines';
  /** M code that prepares synchronised tapping before G84, −1 none. */
  readonly synchronisedTappingCode: number;
  /** H may differ from T without a word. */
  readonly lengthRegisterFree: boolean;
  /** G codes (× 10) that the control does not know although this page does. */
  readonly withoutCodes: readonly number[];
  /** Further G codes (× 10) and M codes that the shop's control knows; they do nothing here and are not reported. */
  readonly extraG: readonly number[];
  readonly extraM: readonly number[];
  /** Remark styles: round brackets, semicolon, two slashes at the start of a block. */
  readonly remarks: { readonly brackets: boolean; readonly semicolon: boolean; readonly slashes: boolean };
  /** Which characters a program may hold: printable ASCII, or any in remarks. */
  readonly characterSet: 'ascii' | 'ascii-outside-remarks';
  /** Longest block in characters. */
  readonly lineLength: number;
  /** Largest sequence number. */
  readonly sequenceNumberMax: number;
  /** Most M words in a block; most G words. */
  readonly maxM: number;
  readonly maxG: number;
  /** Modes at power-on. */
  readonly start: {
    readonly motion: number;
    readonly plane: number;
    readonly distance: number;
    readonly units: number;
    readonly feedMode: number;
    readonly retract: number;
    readonly offset: number;
  };
}

const iso: ControlProfile = {
  name: 'iso',
  decimalPoint: 'whole-unit',
  dwell: 'point-decides',
  order: 'iso',
  cyclesAreMotion: false,
  groupConflict: 'last-holds',
  radiusAndCentre: 'radius-holds',
  arcTolerance: { mm: 0.02, inch: 0.0008, places: 2.9 },
  turns: { letter: 'P', counts: 'turns' },
  repeats: 'both',
  peckRetract: 0.5,
  cycle87: 'manual-out',
  helixFeed: 'space',
  feedKeptAcrossModes: false,
  leadWord: 'F',
  colon: 'program-number',
  toolChange: 'same-block',
  unsetVariable: 'empty',
  assignments: 'at-once',
  rounding: 'toward-zero',
  andBinds: 'product',
  flow: true,
  subprogramRepeats: 'L',
  localCallCode: -1,
  systemVariables: 'macro',
  feedBeforeUnits: false,
  units7071: true,
  mirrorCodes: true,
  offsetRegister: 'radius',
  outsideCorner: 'arc',
  synchronisedTappingCode: 29,
  lengthRegisterFree: false,
  withoutCodes: [],
  extraG: [],
  extraM: [],
  remarks: { brackets: true, semicolon: true, slashes: true },
  characterSet: 'ascii-outside-remarks',
  lineLength: 256,
  sequenceNumberMax: 99_999_999,
  maxM: 4,
  maxG: 12,
  start: { motion: -1, plane: 17, distance: 90, units: 21, feedMode: 94, retract: 98, offset: 540 },
};

const rs274ngc: ControlProfile = {
  ...iso,
  name: 'rs274ngc',
  dwell: 'seconds',
  order: 'report',
  cyclesAreMotion: true,
  groupConflict: 'error',
  radiusAndCentre: 'error',
  arcTolerance: { mm: 0.002, inch: 0.0002, places: 0 },
  repeats: 'L',
  turns: { letter: 'P', counts: 'turns' },
  peckRetract: 0.254,
  cycle87: 'back-boring',
  feedKeptAcrossModes: true,
  leadWord: 'K',
  colon: 'alignment',
  unsetVariable: 'zero',
  assignments: 'after-block',
  rounding: 'floor-ceiling',
  andBinds: 'sum',
  flow: false,
  systemVariables: 'report',
  feedBeforeUnits: true,
  units7071: false,
  mirrorCodes: false,
  withoutCodes: [290, 330, 730, 740, 760, 901, 911, 950, 960, 970, 150, 160, 500, 510, 680, 690, 520, 650, 660, 670],
  synchronisedTappingCode: -1,
  sequenceNumberMax: 99_999,
};

const isoMacro: ControlProfile = {
  ...iso,
  name: 'iso-macro',
  decimalPoint: 'increment',
  dwell: 'milliseconds',
  subprogramRepeats: 'first-digits',
};

/** The presets by name. */
export const PROFILES: Readonly<Record<string, ControlProfile>> = { iso, rs274ngc, 'iso-macro': isoMacro };

/** The preset that holds where nothing else is said. */
export const DEFAULT_PROFILE: ControlProfile = iso;
