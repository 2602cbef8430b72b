import type { Fault, Fix, RuleContext } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';

/** Look-alikes that text programs put in the place of plain characters. */
const SPACES = /^[\u00a0\u2000-\u200b\u202f\u3000\ufeff]$/;
const DASHES = /^[\u2010-\u2015\u2212\uff0d]$/;

/** Characters that the control does not take. */
export const characterSet = defineRule({
  code: 'character-set',
  severity: 'warning',
  // The rest of such a file cannot be trusted to be what its author wrote.
  severities: { 'bad-utf8': 'error' },
  reason: 'A control drops characters it does not know or alarms at them; a dropped minus is a crash.',
  messages: {
    dash: 'This is a longer dash and no minus, though it looks like one; a control drops it or alarms. Type it anew with the minus key.',
    space:
      'This is a special space that text programs write, and a control may alarm at it. Type it anew with the space bar.',
    outside:
      '"{text}" (U+{codepoint}) is not a character that the control takes. Write it in plain letters, digits and signs.',
    'bad-utf8': 'Here the file holds bytes that are no UTF-8 text. Save it again as UTF-8 or plain ASCII.',
  },
  fault(context, fault) {
    if (fault.message !== 'outside') {
      context.report(fault.message, fault.start, fault.end, fault.data);
      return;
    }
    const data = { ...fault.data, codepoint: hex(fault) };
    context.report(messageFor(String(fault.data.text)), fault.start, fault.end, data, repairs(context, fault));
  },
});

const messageFor = (text: string): string => (DASHES.test(text) ? 'dash' : SPACES.test(text) ? 'space' : 'outside');

const hex = (fault: Fault): string => {
  const code = fault.data.codepoint;
  return typeof code === 'number' ? code.toString(16).toUpperCase().padStart(4, '0') : String(code).replace(/^U\+/, '');
};

const repairs = (context: RuleContext, fault: Fault): Fix[] => {
  const text = String(fault.data.text);
  const place = { start: fault.start, end: fault.end };
  if (SPACES.test(text)) return [context.replace('Write a plain space', true, { ...place, text: ' ' })];
  if (DASHES.test(text)) return [context.replace('Write a plain minus', false, { ...place, text: '-' })];
  return [];
};
