import type { ArcFacts } from '../../machine/arcFacts.ts';
import type { RuleContext } from '../rule.ts';
import { chordOf } from '../support/arcWords.ts';
import { defineRule } from '../support/gradedRule.ts';
import { lastPlace } from '../support/numbers.ts';

/** Start and end count as rounded to one another up to this many last places (√2 · 1 place and a little). */
const PLACES = 1.5;
/** An arc this many times larger than the way between its ends is not a small arc of its own. */
const FAR_LARGER = 50;

/** An arc whose end is the start but for rounding, so that full turn and nothing are one digit apart. */
export const arcClosesUnmeant = defineRule({
  code: 'arc-closes-unmeant',
  severity: 'warning',
  reason: 'One last digit decides between a full turn and no cut at all.',
  messages: {
    'almost-full':
      'The arc ends {chord} from its start and so turns {degrees}°, nearly a full turn of radius {radius}. For a full circle leave the end point out; for a tiny arc write G1.',
    'almost-nothing':
      'The arc ends {chord} from its start and so turns {degrees}° only, at radius {radius}. For a full circle leave the end point out or write the start point exactly.',
  },
  arc(context, arc) {
    if (arc.byRadius || arc.endWord < 0 || arc.turns > 0) return;
    const chord = chordOf(arc);
    const place = lastPlace(context.unit) * context.unit;
    if (!(chord > 1e-6 && chord <= PLACES * place && arc.radius > chord * FAR_LARGER)) return;
    const turns = Math.abs(arc.sweep) / (2 * Math.PI);
    if (turns > 0.5) tell(context, arc, 'almost-full');
    else if (looksLikeFullTurn(arc, chord)) tell(context, arc, 'almost-nothing');
  },
});

/** Directly after a plunge or a rapid, or going down far steeper than it turns: nobody cuts such a sliver on purpose. */
const looksLikeFullTurn = (arc: ArcFacts, chord: number): boolean =>
  Number.isNaN(arc.tangentFirst) || Math.abs(arc.endThird - arc.startThird) > 10 * chord;

const tell = (context: RuleContext, arc: ArcFacts, message: string): void => {
  const { block } = context;
  context.report(message, block.starts[arc.endWord], block.ends[arc.endWord], {
    chord: chordOf(arc) / context.unit,
    degrees: (Math.abs(arc.sweep) * 180) / Math.PI,
    radius: arc.radius / context.unit,
  });
};
