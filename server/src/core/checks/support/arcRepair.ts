/** Trying other centres for an arc, and naming a repair by its result. Lengths mm, angles radians. */
import type { ArcFacts } from '../../machine/arcFacts.ts';
import { distance } from '../../machine/arcs.ts';
import { Mode } from '../../machine/modes.ts';
import type { RuleContext } from '../rule.ts';
import { lengthPlaces, shortNumber, wordNumber } from './numbers.ts';

/** Letter of a place in the alphabet. */
export const letterOf = (index: number): string => String.fromCharCode(65 + index);

/** The plane's two centre letters in the order of the alphabet, as a person says them. */
export const centreLetters = (arc: ArcFacts): { first: string; second: string } => ({
  first: letterOf(Math.min(arc.firstCentre, arc.secondCentre)),
  second: letterOf(Math.max(arc.firstCentre, arc.secondCentre)),
});

/** A centre that is tried, in the plane. */
export interface Centre {
  readonly first: number;
  readonly second: number;
}

/** True where centre words are plain distances: neither scaled, turned nor polar. */
export const centreWordsArePlain = (context: RuleContext): boolean =>
  context.modes[Mode.scaling] !== 1 && context.modes[Mode.rotation] !== 1 && context.modes[Mode.polar] !== 1;

/** Radii at the start and at the end for a centre that is tried. NaN where the start is not known. */
const radiiOf = (arc: ArcFacts, centre: Centre): { start: number; end: number } => ({
  start: distance(arc.startFirst - centre.first, arc.startSecond - centre.second),
  end: distance(arc.endFirst - centre.first, arc.endSecond - centre.second),
});

/** True where the arc closes on this centre within the tolerance. */
export const closesOn = (arc: ArcFacts, centre: Centre): boolean => {
  const radii = radiiOf(arc, centre);
  return radii.start > arc.tolerance && Math.abs(radii.start - radii.end) <= arc.tolerance;
};

/** Way from start to end in the plane, mm. */
export const chordOf = (arc: ArcFacts): number =>
  distance(arc.endFirst - arc.startFirst, arc.endSecond - arc.startSecond);

/** Angle turned through in the arc's direction about a centre, radians, positive; a full turn where the end is the start. */
const turnAbout = (arc: ArcFacts, centre: Centre): number => {
  const from = Math.atan2(arc.startSecond - centre.second, arc.startFirst - centre.first);
  const to = Math.atan2(arc.endSecond - centre.second, arc.endFirst - centre.first);
  const turn = arc.clockwise ? from - to : to - from;
  const positive = turn - Math.floor(turn / (2 * Math.PI)) * 2 * Math.PI;
  return positive < 1e-9 ? 2 * Math.PI : positive;
};

/** "centre X12. Y-4., radius 8., 90° clockwise", in the program's units. */
export const describeArc = (context: RuleContext, arc: ArcFacts, centre: Centre): string => {
  const places = lengthPlaces(context.unit);
  const number = (value: number) => wordNumber(value / context.unit, places);
  const first = `${letterOf(arc.firstAxis)}${number(centre.first)}`;
  const second = `${letterOf(arc.secondAxis)}${number(centre.second)}`;
  const at = arc.firstAxis < arc.secondAxis ? `${first} ${second}` : `${second} ${first}`;
  const degrees = shortNumber((turnAbout(arc, centre) * 180) / Math.PI, 1);
  return `centre ${at}, radius ${number(radiiOf(arc, centre).start)}, ${degrees}° ${arc.clockwise ? 'clockwise' : 'counter-clockwise'}`;
};

/** The centre that written centre words (program's units, 0 where absent) make for an arc. Needs plain centre words. */
export const centreFromWords = (context: RuleContext, arc: ArcFacts, first: number, second: number): Centre => {
  const shift = (axis: number): number => {
    const place = axis - 23; // X Y Z
    return context.modes[Mode.localShift + place] + context.modes[Mode.presetShift + place];
  };
  const absolute = context.modes[Mode.arcDistance] === 90;
  return {
    first: first * context.unit + (absolute ? shift(arc.firstAxis) : arc.startFirst),
    second: second * context.unit + (absolute ? shift(arc.secondAxis) : arc.startSecond),
  };
};

/** Index of the arc's word with a centre letter (place in the alphabet of I, J or K), −1 without. */
export const centreWord = (arc: ArcFacts, letter: number): number =>
  letter === 8 ? arc.wordI : letter === 9 ? arc.wordJ : arc.wordK;
