import type { ArcFacts } from '../../machine/arcFacts.ts';
import type { Fix, RuleContext } from '../rule.ts';
import {
  type Centre,
  centreFromWords,
  centreLetters,
  centreWord,
  centreWordsArePlain,
  closesOn,
  describeArc,
  letterOf,
} from '../support/arcRepair.ts';
import { defineRule } from '../support/gradedRule.ts';
import { isPlain, removalFix, wordAt } from '../support/words.ts';

/** A centre word of an axis that is not in the active plane. */
export const arcCentreOffPlane = defineRule({
  code: 'arc-centre-off-plane',
  severity: 'error',
  reason: 'The control alarms, or drops the word and cuts an arc about another centre.',
  messages: {
    'off-plane':
      '{word} does not belong to an arc in {plane}, whose centre words are {expected}. Write it with the right letter, or select the plane that is meant.',
  },
  fault(context, fault, arc) {
    const word = fault.word >= 0 ? fault.word : wordAt(context.block, fault.start);
    const data = arc === undefined ? fault.data : { ...fault.data, ...lettersOf(arc) };
    const fixes = arc === undefined || word < 0 ? [] : renamed(context, arc, word);
    context.report('off-plane', fault.start, fault.end, data, fixes);
  },
});

const lettersOf = (arc: ArcFacts) => {
  const { first, second } = centreLetters(arc);
  return { plane: `G${arc.plane}`, expected: `${first} and ${second}` };
};

/** The word under the letters of the plane that are still free, the one on which the arc closes first. */
const renamed = (context: RuleContext, arc: ArcFacts, word: number): Fix[] => {
  const { block } = context;
  const text = block.wordText(word);
  const free = [arc.firstCentre, arc.secondCentre].filter((letter) => centreWord(arc, letter) < 0);
  if (free.length === 0) return [removalFix(context, `Take ${text} out`, word)];
  const candidates = free.map((letter) => {
    const centre = centreWith(context, arc, letter, word);
    return { letter, centre, closes: centre !== undefined && closesOn(arc, centre) };
  });
  candidates.sort((a, b) => Number(b.closes) - Number(a.closes));
  const closing = candidates.filter((candidate) => candidate.closes);
  // Where no candidate closes, a lone free letter is still the exact exchange; two of them would be a guess.
  const offered = closing.length > 0 ? closing : free.length === 1 ? candidates : [];
  return offered.map(({ letter, centre, closes }) => {
    const write = `${letterOf(letter)}${text.slice(1)}`;
    const title = closes && centre ? `Write ${write}: ${describeArc(context, arc, centre)}` : `Write ${write}`;
    const safe = closes && closing.length === 1 && free.length === 1;
    const start = block.starts[word];
    return context.replace(title, safe, { start, end: start + 1, text: letterOf(letter) });
  });
};

/** The centre with the word taken for `letter`; undefined where it cannot be told. */
const centreWith = (context: RuleContext, arc: ArcFacts, letter: number, word: number): Centre | undefined => {
  if (!centreWordsArePlain(context) || !isPlain(context.block, word)) return undefined;
  const lengthOf = (centre: number): number => {
    if (centre === letter) return context.block.values[word];
    const index = centreWord(arc, centre);
    return index < 0 ? 0 : context.block.values[index];
  };
  return centreFromWords(context, arc, lengthOf(arc.firstCentre), lengthOf(arc.secondCentre));
};
