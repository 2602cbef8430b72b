import { Given, Mode } from '../../machine/modes.ts';
import { isAssumedTold } from '../support/assumedRadius.ts';
import { defineRule } from '../support/gradedRule.ts';

/** The way onto a compensated contour or off it is an arc or too short, or the plane changes on it. */
export const radiusCompEntry = defineRule({
  code: 'radius-comp-entry',
  severity: 'error',
  severities: { 'short-lead-in-assumed': 'warning' },
  reason:
    'The cutter is led beside the contour on a straight move only: otherwise the control stops, or the cutter runs into the contour’s start.',
  messages: {
    'arc-lead-in':
      '{code} is taken up on an arc, and controls take it up on a straight move only. Lead in with a straight move at least as long as the cutter’s radius of {radius}.',
    'arc-lead-out':
      'The way off the contour is an arc, and controls leave it on a straight move only. Lead out with a straight move at least as long as the cutter’s radius, then write the arc.',
    'short-lead-in':
      'The lead-in is {length} long, shorter than the cutter’s radius of {radius}. Lead in with a straight move at least as long as the cutter’s radius.',
    'short-lead-in-assumed':
      'The lead-in is {length} long, shorter than the radius of {radius} that the tool’s remark gives. Lead in with a straight move at least that long, or tell the radius of D in the tool table if it is another.',
    'plane-change':
      'The plane changes while {code} is on. Lead out with G40 before it, and take up {code} again behind it.',
  },
  fault(context, { message, start, end, data }) {
    if (message.endsWith('-assumed') && isAssumedTold(context)) return;
    context.report(message, start, end, data);
  },
  codes(context) {
    const { modes } = context;
    if (modes[Mode.radiusCompensation] === 40) context.takeBack(Given.assumedRadiusTold);
  },
});
