import { chordOf } from '../support/arcWords.ts';
import { defineRule } from '../support/gradedRule.ts';

/** R that does not reach from start to end. */
export const arcRadiusTooSmall = defineRule({
  code: 'arc-radius-too-small',
  severity: 'error',
  repairedBySearch: true,
  reason: 'No circle of this radius passes through both points: the control alarms, or cuts another arc.',
  messages: {
    'too-small': 'R{radius} does not reach from start to end, which needs at least {least}. Check R and the end point.',
  },
  fault(context, fault, arc) {
    const data =
      arc === undefined
        ? fault.data
        : { radius: arc.programmedRadius / context.unit, least: chordOf(arc) / 2 / context.unit };
    context.report('too-small', fault.start, fault.end, data);
  },
});
