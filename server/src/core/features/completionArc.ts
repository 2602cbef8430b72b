/** The words that close an arc whose end is typed: its centre, or its radius. */

import { formatLength } from '../blocks/blockWriter.ts';
import { arcCloses, createArcFacts, distance, solveByCentre, solveByRadius } from '../machine/arcs.ts';
import { toProgrammed } from '../machine/coordinates.ts';
import { Mode } from '../machine/modes.ts';
import type { CompletionPlace, WordItem } from './completionPlace.ts';
import { shortNumber } from './hoverPlace.ts';
import { type TracedMove, tracedMoves } from './trace.ts';

/** So many lines back the cut is looked for that the arc goes on from. */
const LINES_BACK = 20;
const SAME = 1e-6;

/** An arc as far as it is typed, in the plane's axes and programmed coordinates, mm. */
interface OpenArc {
  readonly place: CompletionPlace;
  readonly clockwise: boolean;
  /** From the start to the end. */
  readonly first: number;
  readonly second: number;
  readonly startFirst: number;
  readonly startSecond: number;
}

/** What closes the arc; nothing where it is closed, has no end, or lies in turned or stretched coordinates. */
export const arcItems = (place: CompletionPlace): WordItem[] => {
  const arc = openArc(place);
  if (arc === undefined) return [];
  const [firstLetter, secondLetter] = centreLetters(place);
  const [hasFirst, hasSecond] = [place.has(firstLetter), place.has(secondLetter)];
  if (hasFirst && hasSecond) return [];
  if (place.has('R')) return hasFirst || hasSecond ? [] : centreForRadius(arc);
  if (hasFirst || hasSecond) return otherCentreWord(arc, hasFirst);
  const offered = new Map<string, WordItem>();
  // The arc without a corner is a quarter or half turn as often as not: each is offered once, by the first of its names.
  for (const item of [...goingOn(arc), ...quarterTurn(arc), ...halfTurn(arc)]) {
    if (!offered.has(item.label)) offered.set(item.label, item);
  }
  return [...offered.values()];
};

const centreLetters = ({ plane }: CompletionPlace): readonly [string, string] => [
  'IJK'[plane.first],
  'IJK'[plane.second],
];

const openArc = (place: CompletionPlace): OpenArc | undefined => {
  if (!place.isReached) return undefined;
  const { plane } = place;
  const motion = place.mode(Mode.motion);
  const isArc = (motion === 20 || motion === 30) && place.mode(Mode.cycle) === 0;
  const isPlain = place.mode(Mode.scaling) !== 1 && place.mode(Mode.polar) !== 1;
  const hasEnd = place.has('XYZ'[plane.first]) || place.has('XYZ'[plane.second]);
  if (!isArc || !isPlain || !hasEnd) return undefined;
  const start = Float64Array.from(place.before.position);
  const end = Float64Array.from(place.after.position);
  toProgrammed(place.after.modes, start);
  toProgrammed(place.after.modes, end);
  const first = end[plane.first] - start[plane.first];
  const second = end[plane.second] - start[plane.second];
  if (Number.isNaN(first + second) || distance(first, second) < SAME) return undefined;
  const [startFirst, startSecond] = [start[plane.first], start[plane.second]];
  return { place, clockwise: motion === 20, first, second, startFirst, startSecond };
};

/** Radius and angle (degrees, always positive) of the arc about a centre counted from its start. */
const measured = (arc: OpenArc, first: number, second: number): { radius: number; angle: number } => {
  const facts = createArcFacts();
  Object.assign(facts, { clockwise: arc.clockwise, startFirst: 0, startSecond: 0 });
  Object.assign(facts, { endFirst: arc.first, endSecond: arc.second, centreFirst: first, centreSecond: second });
  solveByCentre(facts);
  return { radius: facts.radius, angle: (Math.abs(facts.sweep) * 180) / Math.PI };
};

const lengthText = ({ place }: OpenArc, millimetres: number): string =>
  formatLength(millimetres / place.unit, place.isInch);

/** A centre word: from the start, or under G90.1 from zero. */
const centreWord = (arc: OpenArc, isFirst: boolean, fromStart: number): string => {
  const isAbsolute = arc.place.mode(Mode.arcDistance) === 90;
  const zero = isAbsolute ? (isFirst ? arc.startFirst : arc.startSecond) : 0;
  return centreLetters(arc.place)[isFirst ? 0 : 1] + lengthText(arc, zero + fromStart);
};

/** Both centre words, in the order of the alphabet. */
const centreWords = (arc: OpenArc, first: number, second: number): string =>
  [centreWord(arc, true, first), centreWord(arc, false, second)].sort().join(' ');

const told = (arc: OpenArc, first: number, second: number): string => {
  const { radius, angle } = measured(arc, first, second);
  const number = shortNumber(radius / arc.place.unit, arc.place.isInch ? 4 : 3);
  return `radius ${number}, ${shortNumber(angle, 2)}°`;
};

const item = (label: string, detail: string, effect: string): WordItem => ({ label, detail, effect, kind: 'word' });

/** The centre words of an arc that is given by R, in the place of R. */
const centreForRadius = (arc: OpenArc): WordItem[] => {
  const facts = createArcFacts();
  Object.assign(facts, { clockwise: arc.clockwise, startFirst: 0, startSecond: 0 });
  Object.assign(facts, { endFirst: arc.first, endSecond: arc.second, programmedRadius: arc.place.length('R') });
  if (arcCloses(facts) || !(solveByRadius(facts) <= Math.abs(facts.programmedRadius) + SAME)) return [];
  const label = centreWords(arc, facts.centreFirst, facts.centreSecond);
  const effect = told(arc, facts.centreFirst, facts.centreSecond);
  return [{ ...item(label, 'the same arc by its centre; R goes', effect), removes: arc.place.wordRange('R') }];
};

/** One centre word is there: the other one makes both radii equal, where only one does. */
const otherCentreWord = (arc: OpenArc, hasFirst: boolean): WordItem[] => {
  const [along, across] = hasFirst ? [arc.first, arc.second] : [arc.second, arc.first];
  const written = arc.place.length(centreLetters(arc.place)[hasFirst ? 0 : 1]);
  const isAbsolute = arc.place.mode(Mode.arcDistance) === 90;
  const given = isAbsolute ? written - (hasFirst ? arc.startFirst : arc.startSecond) : written;
  // |centre| = |centre − end|, solved for the word that is missing.
  const square = arc.first * arc.first + arc.second * arc.second;
  const other = (square - 2 * given * along) / (2 * across);
  if (Math.abs(across) < SAME || Number.isNaN(other)) return [];
  const [first, second] = hasFirst ? [given, other] : [other, given];
  return [item(centreWord(arc, !hasFirst, other), 'closes the arc', told(arc, first, second))];
};

/** Both ways of writing an arc about a centre, from its start. R only up to the half circle, where it is sure. */
const bothForms = (arc: OpenArc, first: number, second: number, detail: string): WordItem[] => {
  const { radius, angle } = measured(arc, first, second);
  const effect = told(arc, first, second);
  const items = [item(centreWords(arc, first, second), detail, effect)];
  if (angle < 180 - 1e-3) items.push(item(`R${lengthText(arc, radius)}`, detail, effect));
  return items;
};

/** The arc that goes on from the cut before it without a corner. */
const goingOn = (arc: OpenArc): WordItem[] => {
  const { place } = arc;
  if (place.mode(Mode.rotation) === 1) return [];
  let last: TracedMove | undefined;
  const lines = { firstLine: Math.max(0, place.line - LINES_BACK), lastLine: place.line - 1, firstPassOnly: true };
  for (const move of tracedMoves(place.analysis, lines)) if (move.length > 0) last = move;
  if (last === undefined || (last.kind !== 'line' && last.kind !== 'arc')) return [];
  const [along, across] = directionAtEnd(last, place.plane.first, place.plane.second);
  // The centre lies square to that direction, as far from the start as from the end.
  const [normalFirst, normalSecond] = [-across, along];
  const square = arc.first * arc.first + arc.second * arc.second;
  const toCentre = square / (2 * (normalFirst * arc.first + normalSecond * arc.second));
  if (!Number.isFinite(toCentre)) return [];
  // A centre on the wrong side would send the arc back where the cut came from.
  if (toCentre > 0 === arc.clockwise) return [];
  return bothForms(arc, normalFirst * toCentre, normalSecond * toCentre, 'goes on from the last cut without a corner');
};

/** Direction in the plane at the end of a move, of length 1; NaN for one that does not move in it. */
const directionAtEnd = ({ from, to, arc }: TracedMove, first: number, second: number): readonly [number, number] => {
  const [a, b] = arc
    ? [to[first] - arc.centre[first], to[second] - arc.centre[second]]
    : [to[first] - from[first], to[second] - from[second]];
  const length = distance(a, b);
  if (!arc) return [a / length, b / length];
  return arc.clockwise ? [b / length, -a / length] : [-b / length, a / length];
};

const quarterTurn = (arc: OpenArc): WordItem[] => {
  // The centre left of the way for a counter-clockwise arc, right of it for a clockwise one.
  const side = arc.clockwise ? -0.5 : 0.5;
  const first = arc.first / 2 - side * arc.second;
  const second = arc.second / 2 + side * arc.first;
  return bothForms(arc, first, second, 'quarter turn');
};

const halfTurn = (arc: OpenArc): WordItem[] => bothForms(arc, arc.first / 2, arc.second / 2, 'half turn');
