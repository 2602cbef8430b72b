/**
 * What a generated block may be given: names, units, defaults and ranges of its parameters. The command line, the form in
 * the editor and the marker in the program share them. Values are text as typed; lengths are mm unless the reader is told
 * that bare numbers are inches.
 */

/** Units of numbers; `mm`, `mm/min`, `mm/tooth` and `m/min` turn into inch units where the program counts in inches. */
export type ParameterUnit = 'mm' | 'mm/min' | 'mm/tooth' | 'm/min' | 'rev/min' | '°' | '%' | 'N·m' | '';

interface ParameterBase {
  /** As on the command line: `corner-radius`, `drill.depth`. */
  readonly name: string;
  /** Beside the field: "Corner radius". */
  readonly label: string;
  /** What it is and, where it is left out, what happens: one sentence or two. */
  readonly help: string;
  /** Must be given (and has no default). */
  readonly needed?: boolean;
  /** The value that holds where nothing is given; text as typed, in mm. */
  readonly fallback?: string;
  /** Fields that belong together stand under one heading. */
  readonly group?: string;
  /** Counts only where another parameter (of the same operation) has one of these values; a form shows it only there. */
  readonly onlyWith?: { readonly name: string; readonly values: readonly string[] };
}

/** A number with its range. */
export interface NumberParameter extends ParameterBase {
  readonly kind: 'number';
  readonly unit: ParameterUnit;
  /** Least and most that can be taken; `above` is a bound that is not taken itself. In mm. */
  readonly least?: number;
  readonly above?: number;
  readonly most?: number;
  readonly whole?: boolean;
}

/** One of some words, or (`several`) a list of them with commas between. */
export interface ChoiceParameter extends ParameterBase {
  readonly kind: 'choice' | 'choices';
  readonly choices: readonly { readonly value: string; readonly label: string }[];
}

/** yes or no; a bare `--name` means yes. */
export interface YesNoParameter extends ParameterBase {
  readonly kind: 'yes-no';
}

/** A thread by name (M10, M10X1.25, 1/4-20 UNC, G1/4) or as diameter × pitch in mm. */
export interface ThreadParameter extends ParameterBase {
  readonly kind: 'thread';
}

/** One place `x,y`, or places `x,y;x,y`; in mm. */
export interface PlaceParameter extends ParameterBase {
  readonly kind: 'point' | 'points';
}

/** One or two numbers, the second for the second direction: "10" or "10,12" (mm), "6" or "4,3" (whole, unit ''). */
export interface PairParameter extends ParameterBase {
  readonly kind: 'pair';
  readonly unit: 'mm' | '';
}

/** Free words. */
export interface TextParameter extends ParameterBase {
  readonly kind: 'text';
}

/** Any parameter. */
export type Parameter =
  | NumberParameter
  | ChoiceParameter
  | YesNoParameter
  | ThreadParameter
  | PlaceParameter
  | PairParameter
  | TextParameter;

/** Values as typed, by parameter name. */
export type RawValues = Readonly<Record<string, string>>;

/** A mistake in a value: which parameter (undefined: the block as a whole), which limit, by how much, and what would work. */
export interface Problem {
  readonly parameter: string | undefined;
  readonly message: string;
}

/** X and Y, mm. */
export type Place = readonly [x: number, y: number];
