import { isAssumedTold } from '../support/assumedRadius.ts';
import { defineRule } from '../support/gradedRule.ts';

/** A contour with a place that the cutter does not get into. */
export const radiusCompGouge = defineRule({
  code: 'radius-comp-gouge',
  severity: 'error',
  severities: {
    'inside-radius-assumed': 'warning',
    'short-step-assumed': 'warning',
    'short-step-before-assumed': 'warning',
  },
  reason: 'A cutter that does not get into a corner cuts into the contour beside it, or the control stops there.',
  messages: {
    'inside-radius':
      'The inside radius of {arcRadius} is smaller than the cutter’s radius of {radius}. Use a cutter with a radius of at most {arcRadius}, or a larger radius in the corner.',
    'inside-radius-assumed':
      'The inside radius of {arcRadius} is smaller than the radius of {radius} that the tool’s remark gives. Use a smaller cutter, or tell the radius of D in the tool table if it is another.',
    'short-step':
      'This move is {length} long, too short for the cutter’s radius of {radius} in the inside corner before it. Use a smaller cutter, or leave the step out.',
    'short-step-assumed':
      'This move is {length} long, too short in the inside corner before it for the radius of {radius} that the tool’s remark gives. Use a smaller cutter, or tell the radius of D in the tool table if it is another.',
    'short-step-before':
      'The move before this one is {length} long, too short for the cutter’s radius of {radius} in the inside corner between them. Use a smaller cutter, or leave the step out.',
    'short-step-before-assumed':
      'The move before this one is {length} long, too short in the inside corner between them for the radius of {radius} that the tool’s remark gives. Use a smaller cutter, or tell the radius of D in the tool table if it is another.',
  },
  fault(context, { message, start, end, data }) {
    if (message.endsWith('-assumed') && isAssumedTold(context)) return;
    context.report(message, start, end, data);
  },
});
