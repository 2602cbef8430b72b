import type { ArcFacts } from '../../machine/arcFacts.ts';
import type { Fix, RuleContext } from '../rule.ts';
import { centreFromWords, centreWord, centreWordsArePlain, closesOn, describeArc } from '../support/arcRepair.ts';
import { defineRule } from '../support/gradedRule.ts';
import { removalFix } from '../support/words.ts';

/** R and centre words in one block. */
export const arcCentreAndRadius = defineRule({
  code: 'arc-centre-and-radius',
  severity: 'warning',
  strictSeverity: 'error',
  severities: { both: 'warning', 'both-strict': 'error' },
  reason: 'A control alarms or takes one of the two; which one differs.',
  messages: {
    both: 'R {radius} and centre words stand in one block; here R holds and the centre words are dropped. Keep one of the two.',
    'both-strict': 'R {radius} and centre words stand in one block, and this control stops at it. Keep one of the two.',
  },
  fault(context, fault, arc) {
    const message = context.profile.radiusAndCentre === 'error' ? 'both-strict' : 'both';
    const data = arc === undefined ? fault.data : { radius: arc.programmedRadius / context.unit };
    context.report(message, fault.start, fault.end, data, arc === undefined ? [] : keepOne(context, arc));
  },
});

const keepOne = (context: RuleContext, arc: ArcFacts): Fix[] => {
  const { block } = context;
  const centres = [arc.wordI, arc.wordJ, arc.wordK].filter((index) => index >= 0);
  const fixes: Fix[] = [];
  const byRadius = Math.abs(arc.programmedRadius);
  const half = Math.hypot(arc.endFirst - arc.startFirst, arc.endSecond - arc.startSecond) / 2;
  if (centres.length > 0 && half > 0 && byRadius + arc.tolerance >= half) {
    fixes.push(removalFix(context, 'Keep R, take the centre words out', ...centres));
  }
  if (arc.radiusWord >= 0 && centreWordsArePlain(context)) {
    const value = (letter: number) => (centreWord(arc, letter) < 0 ? 0 : block.values[centreWord(arc, letter)]);
    const centre = centreFromWords(context, arc, value(arc.firstCentre), value(arc.secondCentre));
    if (closesOn(arc, centre)) {
      fixes.push(
        removalFix(context, `Keep the centre, take R out: ${describeArc(context, arc, centre)}`, arc.radiusWord),
      );
    }
  }
  return fixes;
};
