import type { ArcFacts } from '../../machine/arcFacts.ts';
import type { RuleContext } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';

/** From so many times of what is allowed on the difference is no matter of rounding, and the figure that is allowed no help. */
const FAR = 10;

/** An arc whose start and end are not equally far from its centre. */
export const arcRadiusMismatch = defineRule({
  code: 'arc-radius-mismatch',
  severity: 'error',
  repairedBySearch: true,
  reason: 'Start and end do not lie on one circle: the control alarms, or cuts a spiral into the part.',
  messages: {
    mismatch:
      'The radius is {startRadius} at the start and {endRadius} at the end, {difference} apart where {tolerance} is allowed. Check the centre words and the end point.',
    far: "The radius is {startRadius} at the start and {endRadius} at the end, so the end is not on the arc's circle. Check the centre words (sign and letter) and the end point.",
  },
  fault(context, fault, arc) {
    const values = arc === undefined ? fault.data : valuesOf(context, arc);
    const isFar = arc !== undefined && Math.abs(arc.radius - arc.endRadius) >= FAR * arc.tolerance;
    context.report(isFar ? 'far' : 'mismatch', fault.start, fault.end, values);
  },
});

const valuesOf = (context: RuleContext, arc: ArcFacts) => ({
  startRadius: arc.radius / context.unit,
  endRadius: arc.endRadius / context.unit,
  difference: Math.abs(arc.radius - arc.endRadius) / context.unit,
  tolerance: arc.tolerance / context.unit,
});
