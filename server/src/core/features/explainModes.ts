/** Everything that holds for a block, each with the line that set it. */
import { offsetName } from '../machine/machinePosition.ts';
import { Mode } from '../machine/modes.ts';
import { gCodeName, mCodeName } from '../reference/codes.ts';
import type { ExplainedMode } from './explain.ts';
import { type HoverPlace, shortNumber } from './hoverPlace.ts';
import { RunBack } from './modeOrigin.ts';
import { modeFinder, type OriginMode } from './modeOriginFinders.ts';

/** What a mode is called, as written and in words; undefined where it is as usual or was never given. */
type Told = { readonly word: string; readonly text: string } | undefined;

/** A G code by ten times its number. */
const code = (number: number): Told => ({ word: `G${shortNumber(number / 10, 1)}`, text: gCodeName(number) ?? '' });

const TELLERS: readonly (readonly [OriginMode, (place: HoverPlace) => Told])[] = [
  [
    'motion',
    (place) => (place.mode(Mode.cycle) > 0 || place.mode(Mode.motion) < 0 ? undefined : code(place.mode(Mode.motion))),
  ],
  ['cycle', (place) => (place.mode(Mode.cycle) > 0 ? code(place.mode(Mode.cycle)) : undefined)],
  ['retract', (place) => (place.mode(Mode.cycle) > 0 ? code(place.mode(Mode.retract) * 10) : undefined)],
  ['tool', tool],
  ['offset', offset],
  ['distance', (place) => code(place.mode(Mode.distance) * 10)],
  ['units', (place) => code(place.mode(Mode.units) * 10)],
  ['plane', (place) => code(place.mode(Mode.plane) * 10)],
  ['feed', feed],
  ['feedMode', (place) => code(place.mode(Mode.feedMode) * 10)],
  ['speed', speed],
  ['speedMode', (place) => (place.mode(Mode.speedMode) === 96 ? code(960) : undefined)],
  ['spindle', spindle],
  ['coolant', coolant],
  [
    'lengthCompensation',
    (place) =>
      place.mode(Mode.lengthCompensation) === 49 ? undefined : code(place.mode(Mode.lengthCompensation) * 10),
  ],
  ['lengthRegister', (place) => register(place, 'H', Mode.lengthRegister, place.mode(Mode.lengthCompensation) !== 49)],
  [
    'radiusCompensation',
    (place) =>
      place.mode(Mode.radiusCompensation) === 40 ? undefined : code(place.mode(Mode.radiusCompensation) * 10),
  ],
  ['radiusRegister', (place) => register(place, 'D', Mode.radiusRegister, place.mode(Mode.radiusCompensation) !== 40)],
  ['scaling', (place) => (place.mode(Mode.scaling) === 1 ? code(510) : undefined)],
  ['rotation', (place) => (place.mode(Mode.rotation) === 1 ? code(680) : undefined)],
  ['polar', (place) => (place.mode(Mode.polar) === 1 ? code(160) : undefined)],
];

/** What holds behind the block, in the order of a machinist's questions. What nothing in the program set is as the control starts. */
export function explainedModes(place: HoverPlace): ExplainedMode[] {
  const run = new RunBack(place.analysis, place.configuration);
  const { profile } = place.configuration;
  const found: ExplainedMode[] = [];
  for (const [mode, teller] of TELLERS) {
    const told = teller(place);
    if (told === undefined) continue;
    // Where cycles belong to the motion group, that is where they are set.
    const origin = run.at(
      place.line,
      modeFinder(mode === 'cycle' && profile.cyclesAreMotion ? 'motion' : mode, profile),
    );
    if (origin === undefined) {
      found.push({ ...told, isOwn: false });
      continue;
    }
    const { line, program } = origin;
    const isOwn = program === undefined && line === place.line;
    found.push({ ...told, line, ...(program === undefined ? {} : { program }), isOwn });
  }
  return found;
}

function offset(place: HoverPlace): Told {
  const number = place.mode(Mode.offset);
  // Of the further ones the number stands in the word already.
  return { word: offsetName(number), text: gCodeName(number) ?? 'work offset' };
}

function tool(place: HoverPlace): Told {
  const number = place.mode(Mode.tool);
  return number < 0 ? undefined : { word: `T${number}`, text: place.toolDescription(number) || 'tool in the spindle' };
}

function feed(place: HoverPlace): Told {
  const value = place.mode(Mode.feed);
  if (value < 0) return undefined;
  const mode = place.mode(Mode.feedMode);
  if (mode === 93) return { word: `F${shortNumber(value, 4)}`, text: 'one over the time of a block in minutes' };
  const number = shortNumber(value / place.unit, 4);
  return { word: `F${number}`, text: `feed ${number} ${place.unitName}${mode === 95 ? ' a turn' : '/min'}` };
}

function speed(place: HoverPlace): Told {
  const value = place.mode(Mode.speed);
  if (value < 0) return undefined;
  const number = shortNumber(value, 1);
  if (place.mode(Mode.speedMode) !== 96) return { word: `S${number}`, text: `spindle speed ${number} rev/min` };
  return { word: `S${number}`, text: `cutting speed ${number} ${place.unit === 1 ? 'm/min' : 'ft/min'}` };
}

function spindle(place: HoverPlace): Told {
  const value = place.mode(Mode.spindle);
  return value === 0 ? undefined : { word: `M${value}`, text: mCodeName(value) ?? '' };
}

function coolant(place: HoverPlace): Told {
  const bits = place.mode(Mode.coolant);
  if (bits === 0) return undefined;
  const codes = [7, 8].filter((_, bit) => (bits & (1 << bit)) !== 0);
  return {
    word: codes.map((number) => `M${number}`).join(' '),
    text: codes.map((number) => mCodeName(number)).join(', '),
  };
}

function register(place: HoverPlace, letter: string, field: number, isOn: boolean): Told {
  const value = place.mode(field);
  if (!isOn || value < 0) return undefined;
  const what = letter === 'H' ? 'length of the tool' : `cutter ${place.configuration.profile.offsetRegister}`;
  return { word: `${letter}${value}`, text: `${what} from register ${value}` };
}
