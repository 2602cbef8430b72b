import type { ArcFacts } from '../../machine/arcFacts.ts';
import type { RuleContext } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';

/** An arc whose start and end are not equally far from its centre. */
export const arcRadiusMismatch = defineRule({
  code: 'arc-radius-mismatch',
  severity: 'error',
  repairedBySearch: true,
  reason: 'Start and end do not lie on one circle: the control alarms, or cuts a spiral into the part.',
  messages: {
    mismatch:
      'The radius is {startRadius} at the start and {endRadius} at the end, {difference} apart where {tolerance} is allowed. Check the centre words and the end point.',
  },
  fault(context, fault, arc) {
    context.report('mismatch', fault.start, fault.end, arc === undefined ? fault.data : valuesOf(context, arc));
  },
});

const valuesOf = (context: RuleContext, arc: ArcFacts) => ({
  startRadius: arc.radius / context.unit,
  endRadius: arc.endRadius / context.unit,
  difference: Math.abs(arc.radius - arc.endRadius) / context.unit,
  tolerance: arc.tolerance / context.unit,
});
