import type { ArcFacts } from '../../machine/arcFacts.ts';
import { Mode } from '../../machine/modes.ts';
import type { Fix, RuleContext } from '../rule.ts';
import { centreWord, centreWordsArePlain, closesOn, describeArc } from '../support/arcRepair.ts';
import { defineRule } from '../support/gradedRule.ts';
import { isPlain, numberChanged } from '../support/words.ts';

/** An arc whose start and end are not equally far from its centre. */
export const arcRadiusMismatch = defineRule({
  code: 'arc-radius-mismatch',
  severity: 'error',
  reason: 'Start and end do not lie on one circle: the control alarms, or cuts a spiral into the part.',
  messages: {
    mismatch:
      'The radius is {startRadius} at the start and {endRadius} at the end, {difference} apart where {tolerance} is allowed. Check the centre words and the end point.',
  },
  fault(context, fault, arc) {
    if (arc === undefined) context.report('mismatch', fault.start, fault.end, fault.data);
    else context.report('mismatch', fault.start, fault.end, valuesOf(context, arc), signRepairs(context, arc));
  },
});

const valuesOf = (context: RuleContext, arc: ArcFacts) => ({
  startRadius: arc.radius / context.unit,
  endRadius: arc.endRadius / context.unit,
  difference: Math.abs(arc.radius - arc.endRadius) / context.unit,
  tolerance: arc.tolerance / context.unit,
});

/** Repairs by the sign of one centre word or of both, where the arc then closes; fewest changes first. */
const signRepairs = (context: RuleContext, arc: ArcFacts): Fix[] => {
  const { block } = context;
  const first = centreWord(arc, arc.firstCentre);
  const second = centreWord(arc, arc.secondCentre);
  if (arc.byRadius || !centreWordsArePlain(context)) return [];
  const usable = (index: number) => index >= 0 && isPlain(block, index) && block.values[index] !== 0;
  const fixes: Fix[] = [];
  for (const turned of [[first], [second], [first, second]]) {
    if (!turned.every(usable)) continue;
    const wayOf = (index: number) => (turned.includes(index) ? wayBack(context, arc, index) : 0);
    const centre = { first: arc.centreFirst + wayOf(first), second: arc.centreSecond + wayOf(second) };
    if (!closesOn(arc, centre)) continue;
    const words = turned.map((index) => numberChanged(block, index, otherSign(block.wordText(index))));
    const title = `Write ${words.map((word) => word.text).join(' ')}: ${describeArc(context, arc, centre)}`;
    fixes.push(context.replace(title, false, ...words));
  }
  return fixes;
};

/** How far the centre moves when a centre word changes its sign, mm. */
const wayBack = (context: RuleContext, arc: ArcFacts, index: number): number => {
  const isFirst = index === centreWord(arc, arc.firstCentre);
  // From the start point the word is what the centre was worked out from, whatever a point counts.
  if (context.modes[Mode.arcDistance] !== 90) {
    return -2 * (isFirst ? arc.centreFirst - arc.startFirst : arc.centreSecond - arc.startSecond);
  }
  return -2 * context.block.values[index] * context.unit;
};

const otherSign = (word: string): string => {
  const number = word.slice(1).trim();
  if (number.startsWith('-')) return number.slice(1).trim();
  return `-${number.replace(/^\+\s*/, '')}`;
};
