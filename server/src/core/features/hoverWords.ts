/** What one word of a block comes to. */
import { codeTable, Group, UNKNOWN_GROUP } from '../machine/codes.ts';
import { Mode } from '../machine/modes.ts';
import { gCodeName, mCodeName } from '../reference/codes.ts';
import { cuttingSpeedOf } from '../reference/threadMeasures.ts';
import { letterIndex, WordFlag } from '../syntax/block.ts';
import { gEffect, mEffect } from './completionCodes.ts';
import { cutterUnder } from './hoverCutter.ts';
import { callWord } from './hoverFlow.ts';
import { duration, type HoverPlace, shortNumber, type WordText } from './hoverPlace.ts';

/** Explains word `index` of the block. */
export function wordSentence(place: HoverPlace, index: number): WordText {
  const { block } = place;
  const letter = String.fromCharCode(65 + block.letters[index]);
  const value = block.values[index];
  const title = block.wordText(index).replace(/\s+/g, '').toUpperCase();
  const computed = (block.flags[index] & WordFlag.computed) !== 0;
  const result = computed
    ? `${Number.isNaN(value) ? 'comes to a value not known here' : `comes to ${shortNumber(value, 6)}`}: `
    : '';
  return {
    title,
    range: place.wordRange(index),
    text: `${result}${callWord(place, index) ?? sentence(place, letter, value)}`,
  };
}

function sentence(place: HoverPlace, letter: string, value: number): string {
  if (letter === 'G') return gSentence(place, Math.round(value * 10));
  if (letter === 'M') return mSentence(place, value);
  if (place.axisOf(letter) >= 0) return axisSentence(place, letter, value);
  return (OTHERS[letter] ?? (() => 'a word that the codes of this block give a meaning'))(place, value);
}

/** Said of codes that change nothing: noise where they stand. */
const UNCHANGED: readonly string[] = ['on already', 'off already', 'no cycle is on'];

/** What a code does, then what it ends or comes to here. */
const withEffect = (name: string, effect: string): string => {
  const parts = effect.split(', ').filter((part) => part !== '' && !UNCHANGED.includes(part));
  return [name, ...parts].join('; ');
};

function gSentence(place: HoverPlace, code: number): string {
  const name = gCodeName(code) ?? 'a G code that is not known here';
  if (!place.isReached) return name;
  const group = codeTable(place.configuration.profile).g[code] ?? UNKNOWN_GROUP;
  const zero = group === Group.offset ? zeroOf(place) : '';
  return withEffect(name, [zero, gEffect(place, code, group)].filter((part) => part !== '').join(', '));
}

function mSentence(place: HoverPlace, code: number): string {
  const name = mCodeName(code) ?? 'an M code of the machine’s own';
  return place.isReached ? withEffect(name, mEffect(place, code)) : name;
}

/** Where the zero of the offset in force lies on the machine, as far as it is known. */
function zeroOf(place: HoverPlace): string {
  const axes = [0, 1, 2].filter((axis) => !Number.isNaN(place.mode(Mode.zero + axis)));
  const words = axes.map((axis) => `${'XYZ'[axis]}${place.length(place.mode(Mode.zero + axis))}`);
  return words.length === 0 ? '' : `zero at machine ${words.join(' ')}`;
}

function axisSentence(place: HoverPlace, letter: string, value: number): string {
  if (place.hasG(40)) return 'time of the wait';
  if (place.hasG(280) || place.hasG(300)) return `${letter} of the point on the way to the reference point`;
  if (place.hasG(100)) return `${letter} as it is written into the table`;
  if (place.hasG(520)) return `zero shifted in ${letter} to ${shortNumber(value, 4)}`;
  if (place.hasG(920)) return `where the tool stands is called ${letter}${shortNumber(value, 4)} from here on`;
  if (place.hasG(680) || place.hasG(510)) return `${letter} of the centre`;
  const axis = place.axisOf(letter);
  if (place.mode(Mode.cycle) > 0 && axis === place.plane.third) return depthSentence(place, letter);
  if (place.hasG(530)) return `${letter} to ${shortNumber(value, 4)} in machine coordinates`;
  return reachSentence(place, letter, axis);
}

/** Where an axis ends up, and how far that is. */
function reachSentence(place: HoverPlace, letter: string, axis: number): string {
  const isTurning = letter >= 'A' && letter <= 'C';
  const to = place.after.position[axis];
  // Another work offset calls the same place by other numbers: the move knows them.
  const from = axis < 3 ? (place.moves[0]?.from[axis] ?? place.before.position[axis]) : place.before.position[axis];
  const way = to - from;
  const show = (value: number) => (isTurning ? shortNumber(value, 3) : place.length(value));
  if (Number.isNaN(to)) return `${letter} to a place that is not known here`;
  const target = `${letter} to ${show(to)}${isTurning ? '°' : ` ${place.unitName}`}`;
  if (Number.isNaN(way)) return `${target}, from a place not known yet`;
  if (way === 0) return `${target}, where it stands already`;
  return `${target} (moves ${way > 0 ? '+' : '-'}${show(Math.abs(way))})`;
}

function depthSentence(place: HoverPlace, letter: string): string {
  const depth = place.mode(Mode.cycleDepth);
  const below = place.mode(Mode.cycleRetract) - depth;
  const under = Number.isNaN(below) ? '' : `, ${place.lengthWithUnit(below)} below R`;
  return `bottom of the hole at ${letter}${place.length(depth)}${under}`;
}

const OTHERS: Readonly<Record<string, (place: HoverPlace, value: number) => string>> = {
  F: feedSentence,
  S: (place, value) =>
    place.mode(Mode.speedMode) === 96
      ? `cutting speed ${shortNumber(value, 2)} ${place.unit === 1 ? 'm/min' : 'ft/min'}`
      : `spindle speed ${shortNumber(value, 1)} rev/min${atTheEdge(place, value)}`,
  T: (place, value) => {
    const description = place.toolDescription(value);
    return `tool ${shortNumber(value, 0)}${description ? `: ${place.escape(description)}` : ''}`;
  },
  H: (_place, value) => `length of the tool from register ${shortNumber(value, 0)}`,
  D: (place, value) => `cutter ${place.configuration.profile.offsetRegister} from register ${shortNumber(value, 0)}`,
  I: (place, value) => centreSentence(place, 'I', value),
  J: (place, value) => centreSentence(place, 'J', value),
  K: (place, value) => centreSentence(place, 'K', value),
  R: radiusSentence,
  P: pauseSentence,
  Q: (place) => {
    if (!(place.mode(Mode.cycle) > 0)) return 'a value for the code in this block';
    const what = place.motion === 760 ? 'step off the wall' : 'depth of a peck';
    return `${what}, ${place.lengthWithUnit(place.mode(Mode.cyclePeck))}`;
  },
  L: (_place, value) => `${shortNumber(value, 0)} times`,
};

/** The cutting speed that a speed makes at the cutter's diameter; '' where that is not known. */
function atTheEdge(place: HoverPlace, speed: number): string {
  const diameter = cutterUnder(place.configuration, place.analysis.modePool, place.after.modes)?.diameter;
  if (diameter === undefined || !(speed > 0)) return '';
  const metres = cuttingSpeedOf(diameter, speed);
  const shown = place.unit === 1 ? `${shortNumber(metres, 1)} m/min` : `${shortNumber(metres / 0.3048, 0)} ft/min`;
  return `, ${shown} at diameter ${place.length(diameter)}`;
}

function feedSentence(place: HoverPlace, value: number): string {
  const number = shortNumber(value, 4);
  if (place.motion === 330) return `lead of the thread, ${number} ${place.unitName} a turn`;
  const mode = place.mode(Mode.feedMode);
  if (mode === 93) return `this block takes 1/${number} min, ${duration(60 / value)}`;
  const speed = place.mode(Mode.speedMode) === 96 ? Number.NaN : place.mode(Mode.speed);
  if (mode === 95) {
    const minute =
      speed > 0 ? `, ${shortNumber(value * speed, 2)} ${place.unitName}/min at S${shortNumber(speed, 1)}` : '';
    return `feed ${number} ${place.unitName} a turn of the spindle${minute}`;
  }
  return `feed ${number} ${place.unitName}/min${speed > 0 ? perTurnAndTooth(place, value / speed) : ''}`;
}

/** `, 0.1 mm a turn, 0.025 a tooth`; the tooth only of cutters whose teeth are known. */
function perTurnAndTooth(place: HoverPlace, perTurn: number): string {
  const decimals = place.unit === 1 ? 3 : 4;
  const cutter = cutterUnder(place.configuration, place.analysis.modePool, place.after.modes);
  const teeth = cutter === undefined || cutter.kind === 'drill' || cutter.kind === 'tap' ? 0 : (cutter.teeth ?? 0);
  const tooth = teeth > 1 ? `, ${shortNumber(perTurn / teeth, decimals)} a tooth` : '';
  return `, ${shortNumber(perTurn, decimals)} ${place.unitName} a turn${tooth}`;
}

/** A centre word of an arc, with the place that it comes to. */
function centreSentence(place: HoverPlace, letter: string, value: number): string {
  const motion = place.motion;
  if (motion === 330) return `lead of the thread, ${shortNumber(value, 4)} ${place.unitName} a turn`;
  if (place.hasG(510)) return 'factor of scaling';
  if (motion !== 20 && motion !== 30) return letter === 'K' ? 'how many times' : 'a value for the code in this block';
  const axis = letter.charCodeAt(0) - 73;
  const axisName = 'XYZ'[axis];
  if (axis === place.plane.third)
    return `names the centre in ${axisName}, which the ${place.plane.name} plane does not have`;
  const move = place.moves.find((one) => one.arc);
  const centre = move?.arc ? `: ${axisName}${place.length(move.arc.centre[axis])}` : '';
  if (place.mode(Mode.arcDistance) === 90) return `centre of the arc in ${axisName}, from the work zero${centre}`;
  const distance = move?.arc ? place.length(move.arc.centre[axis] - move.from[axis]) : shortNumber(value, 4);
  return `centre of the arc is ${distance} from the start in ${axisName}${centre}`;
}

function radiusSentence(place: HoverPlace, value: number): string {
  if (place.hasG(680)) return `turned by ${shortNumber(value, 4)}°`;
  if (place.mode(Mode.cycle) > 0)
    return `level R, where feeding begins: ${place.lengthWithUnit(place.mode(Mode.cycleRetract))}`;
  if (place.motion !== 20 && place.motion !== 30) return 'a value for the code in this block';
  const arc = place.moves.find((move) => move.arc)?.arc;
  const radius = arc ? place.lengthWithUnit(arc.radius) : `${shortNumber(Math.abs(value), 4)} ${place.unitName}`;
  return value < 0
    ? `radius ${radius}, the arc of more than half a turn`
    : `radius ${radius}, the arc of at most half a turn`;
}

function pauseSentence(place: HoverPlace, value: number): string {
  const dwell = place.moves.find((move) => move.kind === 'dwell')?.seconds ?? place.mode(Mode.cycleDwell);
  if (place.hasG(40) || (place.mode(Mode.cycle) > 0 && !Number.isNaN(dwell))) {
    return `wait of ${duration(dwell)}, read as ${dwell === value ? 'seconds' : 'milliseconds'} by this control`;
  }
  if (place.hasM(99)) return `block N${shortNumber(value, 0)} that it goes on at`;
  if (place.hasG(541)) return `extra work offset ${shortNumber(value, 0)}`;
  if (place.hasG(510)) return 'factor of scaling';
  const { turns } = place.configuration.profile;
  if ((place.motion === 20 || place.motion === 30) && turns.letter === 'P' && place.block.has(letterIndex('P'))) {
    return turns.counts === 'turns'
      ? `${shortNumber(value, 0)} turns in all, a part turn counted as one`
      : `${shortNumber(value, 0)} turns more`;
  }
  return 'a value for the code in this block';
}
