/** The G and M codes that a control knows, with what each would change where the block stands. */
import type { MachineState } from '../checks/analysis.ts';
import { codeTable, Group, UNKNOWN_GROUP } from '../machine/codes.ts';
import type { Configuration } from '../machine/configuration.ts';
import { Given, Mode } from '../machine/modes.ts';
import type { Plane } from '../machine/planes.ts';
import { gCodeName, mCodeName } from '../reference/codes.ts';
import type { CompletionPlace, WordItem } from './completionPlace.ts';
import { shortNumber } from './hoverPlace.ts';

/**
 * Codes that begin with the digits typed. None where the digits are a code already: then the word is complete, and nothing
 * may take the place of it. Where they are none, what was typed stands first.
 */
export const codeItems = (place: CompletionPlace, letter: 'G' | 'M', digits: string): WordItem[] => {
  const table = codeTable(place.configuration.profile)[letter === 'G' ? 'g' : 'm'];
  const scale = letter === 'G' ? 10 : 1;
  const typed = Math.round(Number(digits) * scale);
  if (digits !== '' && (table[typed] ?? UNKNOWN_GROUP) !== UNKNOWN_GROUP) return [];
  const items: WordItem[] = [];
  for (let code = 0; code < table.length; code++) {
    if (table[code] === UNKNOWN_GROUP) continue;
    const number = String(code / scale);
    if (!number.startsWith(digits)) continue;
    const name = letter === 'G' ? gCodeName(code) : mCodeName(code);
    const detail = name ?? OWN_CODES[`${letter}${number}`] ?? 'a code of the machine’s own';
    const effect = place.isReached ? (letter === 'G' ? gEffect(place, code, table[code]) : mEffect(place, code)) : '';
    items.push({ label: `${letter}${number}`, detail, effect, kind: 'code' });
  }
  if (digits === '' || items.length === 0) return items;
  const asTyped = { label: letter + digits, detail: 'as typed; no code of this control', effect: '' };
  return [{ ...asTyped, kind: 'code', isAsTyped: true }, ...items];
};

const OWN_CODES: Readonly<Record<string, string>> = { M29: 'synchronised tapping from the next cycle on' };

/** What ends with a motion code, shorter than what it does. */
const MOTIONS: Readonly<Record<number, string>> = {
  0: 'G0 rapid',
  10: 'G1 straight cut',
  20: 'G2 clockwise arc',
  30: 'G3 counter-clockwise arc',
};

/** A motion code or a cycle with what it does, up to the first pause; of others the code alone. */
const named = (code: number, withName = false): string =>
  MOTIONS[code] ?? `G${code / 10} ${withName ? (gCodeName(code)?.split(/[:,]/)[0] ?? '') : ''}`.trim();

/** What the effect of a code hangs on. */
export interface CodePlace {
  readonly configuration: Configuration;
  readonly before: MachineState;
  readonly plane: Plane;
  /** Millimetres a unit of the program. */
  readonly unit: number;
  /** A mode behind the block. */
  mode(field: number): number;
  toolDescription(number: number): string;
}

/** What a G code (× 10) of a group would change in a place, and what it comes to there; '' nothing to tell. */
export const gEffect = (place: CodePlace, code: number, group: number): string => {
  const mode = (field: number): number => place.before.modes[field];
  const cycle = mode(Mode.cycle);
  if (code === 800) return cycle > 0 ? named(cycle, true) : 'no cycle is on';
  if (group === Group.motion || group === Group.cycle) {
    if (cycle > 0) return cycle === code ? 'on already' : `ends the cycle ${named(cycle, true)}`;
    const motion = mode(Mode.motion);
    if (motion === code) return 'on already';
    const endsMotion = group === Group.motion || place.configuration.profile.cyclesAreMotion;
    return endsMotion && motion >= 0 ? `ends ${named(motion)}` : '';
  }
  const inForce = codeInForce(group, mode);
  const wanted = code === 700 ? 200 : code === 710 ? 210 : code;
  const change =
    inForce < 0 ? '' : inForce === wanted ? 'on already' : inForce > 10_000 ? 'ends G54.1' : `ends ${named(inForce)}`;
  return [hereOf(place, code), change].filter((part) => part !== '').join(', ');
};

/** G number × 10 of the code of a group that holds, −1 none. */
const codeInForce = (group: number, mode: (field: number) => number): number => {
  switch (group) {
    case Group.plane:
      return mode(Mode.plane) * 10;
    case Group.distance:
      return mode(Mode.distance) * 10;
    case Group.arcDistance:
      return mode(Mode.arcDistance) * 10 + 1;
    case Group.feedMode:
      return mode(Mode.feedMode) * 10;
    case Group.speedMode:
      return mode(Mode.speedMode) * 10;
    case Group.units:
      return mode(Mode.units) * 10;
    case Group.radiusCompensation:
      return mode(Mode.radiusCompensation) * 10;
    case Group.lengthCompensation:
      return mode(Mode.lengthCompensation) * 10;
    case Group.retract:
      return mode(Mode.retract) * 10;
    case Group.offset:
      return mode(Mode.offset);
    case Group.pathControl:
      return mode(Mode.pathControl);
    case Group.scaling:
      return mode(Mode.scaling) === 1 ? 510 : 500;
    case Group.rotation:
      return mode(Mode.rotation) === 1 ? 680 : 690;
    case Group.polar:
      return mode(Mode.polar) === 1 ? 160 : 150;
    default:
      return -1;
  }
};

/** What a code comes to in this place. */
const hereOf = (place: CodePlace, code: number): string => {
  const { modes } = place.before;
  const level = (millimetres: number): string =>
    Number.isNaN(millimetres)
      ? ''
      : `back to ${'XYZ'[place.plane.third]}${shortNumber(millimetres / place.unit, place.unit === 1 ? 3 : 4)}`;
  if (code === 980) {
    const initial = modes[Mode.cycleInitial];
    return level(Number.isNaN(initial) ? place.before.position[place.plane.third] : initial);
  }
  if (code === 990) return level(modes[Mode.cycleRetract]);
  if (code === 430 && modes[Mode.tool] >= 0) return `for tool ${modes[Mode.tool]}`;
  return '';
};

/** The same for an M code. */
export const mEffect = (place: CodePlace, code: number): string => {
  const mode = (field: number): number => place.before.modes[field];
  const spindle = mode(Mode.spindle);
  if (code >= 3 && code <= 5) {
    const change = spindle === code ? 'on already' : spindle >= 3 && spindle <= 5 ? `ends M${spindle}` : '';
    const speed = place.mode(Mode.speed);
    const says = code === 5 ? '' : speed > 0 ? `at ${shortNumber(speed, 1)} rev/min` : 'no S is given yet';
    return [says, change].filter((part) => part !== '').join(', ');
  }
  if (code === 6) return changeEffect(place);
  if (code >= 7 && code <= 9) {
    const coolant = mode(Mode.coolant);
    if (code === 9) return coolant === 0 ? 'off already' : '';
    return (coolant & (code === 7 ? 1 : 2)) === 0 ? '' : 'on already';
  }
  const isLocked = (mode(Mode.given) & Given.overrideLocked) !== 0;
  if (code === 48 || code === 49) return isLocked === (code === 49) ? 'on already' : `ends M${code === 48 ? 49 : 48}`;
  return '';
};

const changeEffect = (place: CodePlace): string => {
  const called = place.mode(Mode.toolCalled);
  if (called < 0) return 'no tool is called yet';
  const description = place.toolDescription(called);
  return `to T${called}${description === '' ? '' : ` ${description}`}`;
};
