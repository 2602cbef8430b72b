import type { ArcFacts } from '../../machine/arcFacts.ts';
import { centreLetters } from '../support/arcWords.ts';
import { defineRule } from '../support/gradedRule.ts';

/** A centre word of an axis that is not in the active plane. */
export const arcCentreOffPlane = defineRule({
  code: 'arc-centre-off-plane',
  severity: 'error',
  repairedBySearch: true,
  reason: 'The control alarms, or drops the word and cuts an arc about another centre.',
  messages: {
    'off-plane':
      '{word} does not belong to an arc in {plane}, whose centre words are {expected}. Write it with the right letter, or select the plane that is meant.',
  },
  fault(context, fault, arc) {
    const data = arc === undefined ? fault.data : { ...fault.data, ...lettersOf(arc) };
    context.report('off-plane', fault.start, fault.end, data);
  },
});

const lettersOf = (arc: ArcFacts) => {
  const { first, second } = centreLetters(arc);
  return { plane: `G${arc.plane}`, expected: `${first} and ${second}` };
};
