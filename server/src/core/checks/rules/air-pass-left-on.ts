import type { RuleContext } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';

/** Our own marker at the head of a program that was lifted: `blockwright-air-pass 50`, the lift in the program's units. */
const MARKER = /blockwright-air-pass(?:[\s:=]+([-+]?(?:\d+\.?\d*|\.\d+)))?(?![\w-])/i;

/** The remark that a program is lifted for a pass in the air. */
export const airPassLeftOn = defineRule({
  code: 'air-pass-left-on',
  severity: 'warning',
  reason: 'A lifted program cuts nothing, and one that is half put back cuts at the wrong height.',
  messages: {
    lifted:
      'This remark says that the program runs {lift} higher for a pass in the air, so it cuts nothing. Set back what was raised, the work offset or the Z words, and take this remark out before you cut.',
    'no-lift':
      'This remark says that the program runs higher for a pass in the air, and not how much. Set back what was raised, the work offset or the Z words, and take this remark out before you cut.',
  },
  codes(context) {
    const { block } = context;
    for (let i = 0; i + 1 < block.remarks.length; i += 2) {
      reportMarker(context, block.remarks[i], block.remarks[i + 1]);
    }
  },
});

const reportMarker = (context: RuleContext, from: number, to: number): void => {
  const marker = MARKER.exec(context.block.source.slice(from, to));
  if (marker === null) return;
  const start = from + marker.index;
  const lift = marker[1];
  const message = lift === undefined ? 'no-lift' : 'lifted';
  context.report(message, start, start + marker[0].length, lift === undefined ? {} : { lift: Number(lift) });
};
