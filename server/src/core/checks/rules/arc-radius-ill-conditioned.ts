import type { ArcFacts } from '../../machine/arcFacts.ts';
import { Mode } from '../../machine/modes.ts';
import type { RuleContext } from '../rule.ts';
import { centreLetters, centreWordsArePlain, chordOf, letterOf } from '../support/arcWords.ts';
import { defineRule } from '../support/gradedRule.ts';
import { lastPlace, lengthPlaces, shortNumber, wordNumber } from '../support/numbers.ts';

/** How near R may come to that of a half turn, or a turn to the full one, before rounding decides where the centre is. */
const NEAR = 0.01;

/** R where the centre depends on the last digit. */
export const arcRadiusIllConditioned = defineRule({
  code: 'arc-radius-ill-conditioned',
  severity: 'hint',
  reason: 'Near a half or a full turn the last digit of R or of the end point moves the centre a long way.',
  messages: {
    'half-turn':
      'R{radius} is within 1 % of {least}, the least that reaches the end: {place} more in R moves the centre by {shift}. {instead} instead of R.',
    'full-turn':
      'R{radius} makes nearly a full turn over {chord} from start to end: {place} more at the end point turns the centre by {angle}°. {instead} instead of R.',
  },
  arc(context, arc) {
    if (!arc.byRadius || arc.radiusWord < 0 || !(chordOf(arc) > 0)) return;
    const half = chordOf(arc) / 2;
    const radius = Math.abs(arc.programmedRadius);
    const isHalf = radius <= half * (1 + NEAR);
    if (!isHalf && Math.abs(arc.sweep) < 2 * Math.PI * (1 - NEAR)) return;
    const start = context.block.starts[arc.radiusWord];
    const end = context.block.ends[arc.radiusWord];
    const text = centreForm(context, arc);
    const { first, second } = centreLetters(arc);
    const instead = text === undefined ? `Give the centre by ${first} and ${second}` : `Write ${text}`;
    const data = { ...(isHalf ? halfTurn(context, arc) : fullTurn(context, arc)), instead };
    const fixes = text === undefined ? [] : [context.replace(`Write ${text}`, false, { start, end, text })];
    context.report(isHalf ? 'half-turn' : 'full-turn', start, end, data, fixes);
  },
});

const halfTurn = (context: RuleContext, arc: ArcFacts) => {
  const place = lastPlace(context.unit);
  const half = chordOf(arc) / 2 / context.unit;
  const radius = Math.max(half, Math.abs(arc.programmedRadius) / context.unit);
  const height = (r: number) => Math.sqrt(Math.max(0, r * r - half * half));
  return {
    radius: arc.programmedRadius / context.unit,
    least: shortNumber(half, lengthPlaces(context.unit)),
    place,
    shift: height(radius + place) - height(radius),
  };
};

const fullTurn = (context: RuleContext, arc: ArcFacts) => {
  const place = lastPlace(context.unit);
  const chord = chordOf(arc) / context.unit;
  const angle = (Math.atan2(place, chord) * 180) / Math.PI;
  return { radius: arc.programmedRadius / context.unit, place, chord, angle };
};

/** The same arc by its centre, from the start point, as words; undefined where centre words are not plain distances. */
const centreForm = (context: RuleContext, arc: ArcFacts): string | undefined => {
  if (!centreWordsArePlain(context) || context.modes[Mode.arcDistance] === 90) return undefined;
  if ([arc.wordI, arc.wordJ, arc.wordK].some((index) => index >= 0)) return undefined;
  const places = lengthPlaces(context.unit);
  const number = (value: number) => wordNumber(value / context.unit, places);
  const alongFirst = `${letterOf(arc.firstCentre)}${number(arc.centreFirst - arc.startFirst)}`;
  const alongSecond = `${letterOf(arc.secondCentre)}${number(arc.centreSecond - arc.startSecond)}`;
  return arc.firstCentre < arc.secondCentre ? `${alongFirst} ${alongSecond}` : `${alongSecond} ${alongFirst}`;
};
