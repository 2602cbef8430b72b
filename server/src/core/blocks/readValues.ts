/** Reads values as typed: units, ranges, threads, places. A mistake names the parameter, the limit and what would work. */
import { parseThread, type Thread } from '../reference/threadName.ts';
import type {
  ChoiceParameter,
  NumberParameter,
  PairParameter,
  Parameter,
  Place,
  Problem,
  RawValues,
} from './parameter.ts';
import { type Due, Values } from './values.ts';

/** mm (or m/min) in one unit of a bare number. */
export const inchFactor = (unit: string): number =>
  unit === 'mm' || unit === 'mm/min' || unit === 'mm/tooth' ? 25.4 : unit === 'm/min' ? 0.3048 : 1;

/** The unit's name where the program counts in inches. */
export const unitName = (unit: string, inch: boolean): string => {
  if (!inch) return unit;
  if (unit === 'm/min') return 'ft/min';
  return unit.replace(/^mm/, 'in');
};

/** A number short, as people write it: at most `places` decimals, no trailing zeros. */
export const short = (value: number, places = 4): string => String(Number(value.toFixed(places)) + 0);

/**
 * Reads all values, bare numbers in mm; those that are wrong are problems, and missing where they are asked for. `inch`:
 * messages about ranges are in inches, since the values were typed so.
 */
export const readValues = (
  parameters: readonly Parameter[],
  raw: RawValues,
  inch: boolean,
): { values: Values; problems: Problem[] } => {
  const problems: Problem[] = [];
  const read = new Map<string, Due>();
  const given = new Set<string>();
  for (const name of Object.keys(raw)) {
    if (!parameters.some((parameter) => parameter.name === name)) {
      problems.push({ parameter: name, message: `There is no parameter ${name}. ${nearestNames(name, parameters)}` });
    }
  }
  for (const parameter of parameters) {
    const typed = raw[parameter.name]?.trim() ?? '';
    if (typed !== '') given.add(parameter.name);
    const text = typed === '' ? parameter.fallback : typed;
    if (text === undefined) {
      if (parameter.needed)
        problems.push({ parameter: parameter.name, message: `${parameter.label} is missing. ${parameter.help}` });
      continue;
    }
    const value = readValue(parameter, text, inch);
    if (typeof value === 'object' && 'message' in value)
      problems.push({ parameter: parameter.name, message: value.message });
    else read.set(parameter.name, value);
  }
  return { values: new Values(read, given), problems };
};

const nearestNames = (name: string, parameters: readonly Parameter[]): string => {
  const start = name.slice(0, 3);
  const near = parameters.filter((parameter) => parameter.name.startsWith(start)).map((parameter) => parameter.name);
  const names = near.length > 0 ? near : parameters.map((parameter) => parameter.name);
  return `It takes ${names.join(', ')}.`;
};

interface Wrong {
  readonly message: string;
}

const readValue = (parameter: Parameter, text: string, inch: boolean): Due | Wrong => {
  switch (parameter.kind) {
    case 'number':
      return readNumber(parameter, text, inch);
    case 'yes-no':
      return readYesNo(parameter, text);
    case 'choice':
      return readChoice(parameter, text);
    case 'choices':
      return readChoices(parameter, text);
    case 'thread':
      return (
        readThread(text) ?? {
          message: `${text} is no thread that the tables know. Write it like M10, M10X1.25, 1/4-20 UNC or G1/4, or as diameter x pitch in mm: 21x1.5.`,
        }
      );
    case 'point':
    case 'points':
      return readPlaces(parameter, text);
    case 'pair':
      return readPair(parameter, text);
    case 'text':
      return text;
  }
};

const NUMBER = /^([-+]?(?:\d+\.?\d*|\.\d+))\s*(mm|in|")?$/i;

/** A number with an optional mm, in or " behind it, in mm; NaN where it is none. */
const measure = (text: string, takesUnit: boolean): number => {
  const match = NUMBER.exec(text.trim().replace(/^([-+]?\d*),(\d+)$/, '$1.$2'));
  if (match === null || (match[2] !== undefined && !takesUnit)) return Number.NaN;
  const unit = match[2]?.toLowerCase();
  return Number(match[1]) * (unit === undefined || unit === 'mm' ? 1 : 25.4);
};

const readNumber = (parameter: NumberParameter, text: string, inch: boolean): number | Wrong => {
  const { label, unit, least, above, most, whole } = parameter;
  const factor = inch ? inchFactor(unit) : 1;
  const value = measure(text, unit === 'mm');
  if (Number.isNaN(value)) {
    const whatItTakes = whole === true ? 'a whole number' : 'a number';
    return {
      message: `${label} takes ${whatItTakes}${unit === '' ? '' : ` (${unitName(unit, inch)})`}, and "${text}" is none.`,
    };
  }
  if (whole === true && !Number.isInteger(value)) return { message: `${label} takes a whole number, not ${text}.` };
  const said = (limit: number): string => `${short(limit / factor)}${unit === '' ? '' : ` ${unitName(unit, inch)}`}`;
  if (above !== undefined && value <= above)
    return { message: `${label} is ${said(value)} and must be more than ${said(above)}.` };
  if (least !== undefined && value < least)
    return { message: `${label} is ${said(value)}; the least is ${said(least)}.` };
  if (most !== undefined && value > most) return { message: `${label} is ${said(value)}; the most is ${said(most)}.` };
  return value;
};

const readYesNo = ({ label }: Parameter, text: string): boolean | Wrong => {
  const word = text.toLowerCase();
  if (['yes', 'y', 'true', 'on', '1'].includes(word)) return true;
  if (['no', 'n', 'false', 'off', '0'].includes(word)) return false;
  return { message: `${label} takes yes or no, not ${text}.` };
};

const listed = (choices: ChoiceParameter['choices']): string => choices.map(({ value }) => value).join(', ');

const readChoice = ({ label, choices }: ChoiceParameter, text: string): string | Wrong => {
  const word = text.toLowerCase();
  if (choices.some(({ value }) => value === word)) return word;
  return { message: `${label} takes one of ${listed(choices)}, not ${text}.` };
};

const readChoices = ({ label, choices }: ChoiceParameter, text: string): readonly string[] | Wrong => {
  const words = text
    .toLowerCase()
    .split(/[\s,;]+/)
    .filter((word) => word !== '');
  const wrong = words.find((word) => !choices.some(({ value }) => value === word));
  if (wrong === undefined && words.length > 0) return words;
  return { message: `${label} takes ${listed(choices)}, with commas between, not ${wrong ?? 'nothing'}.` };
};

const OWN_SIZE = /^(\d+\.?\d*|\.\d+)\s*[xX×*]\s*(\d+\.?\d*|\.\d+)(\s+LH)?$/i;

/** A thread by name or, in no standard, by diameter × pitch in mm. */
export const readThread = (text: string): Thread | undefined => {
  const standard = parseThread(text);
  if (standard !== undefined) return standard;
  const own = OWN_SIZE.exec(text.trim());
  if (own === null) return undefined;
  const [diameter, pitch] = [Number(own[1]), Number(own[2])];
  if (!(diameter > 0 && pitch > 0 && pitch < diameter / 2)) return undefined;
  const hand = own[3] === undefined ? 'right' : 'left';
  // Fine: the drill of the coarse thread of that diameter is not its own.
  return { name: `${short(diameter)}X${short(pitch)}`, series: 'metric', diameter, pitch, hand, fine: true };
};

const readPlaces = (parameter: Parameter, text: string): readonly Place[] | Wrong => {
  const places: Place[] = [];
  for (const piece of text.split(/[;/]/)) {
    if (piece.trim() === '') continue;
    const parts = piece.split(',').map((part) => measure(part, true));
    if (parts.length !== 2 || parts.some(Number.isNaN)) {
      return {
        message: `${parameter.label}: "${piece.trim()}" is no place. Write X,Y, such as 20,-12.5${parameter.kind === 'points' ? ', with ; between the places' : ''}.`,
      };
    }
    places.push([parts[0], parts[1]]);
  }
  if (places.length === 0) return { message: `${parameter.label} names no place. Write X,Y, such as 20,-12.5.` };
  if (parameter.kind === 'point' && places.length > 1)
    return { message: `${parameter.label} takes one place, not ${places.length}.` };
  return places;
};

const readPair = (parameter: PairParameter, text: string): readonly number[] | Wrong => {
  const numbers = text.split(/[,;]/).map((part) => measure(part, parameter.unit === 'mm'));
  const isWhole = parameter.unit === '';
  if (
    numbers.length > 2 ||
    numbers.some((one) => Number.isNaN(one) || (isWhole && !(Number.isInteger(one) && one >= 1)))
  ) {
    return {
      message: `${parameter.label} takes ${isWhole ? 'a whole number of 1 or more' : 'a number'}, or two with a comma between, not ${text}.`,
    };
  }
  return numbers;
};
