import { LeftOver, Mode } from '../../machine/modes.ts';
import { planeOf } from '../../machine/planes.ts';
import { letterIndex } from '../../syntax/block.ts';
import type { RuleContext } from '../rule.ts';
import { reportBlock, toolName } from '../support/carriedValue.ts';
import { defineRule } from '../support/gradedRule.ts';

const Z = letterIndex('Z');

/** G18 or G19 of the tool before, or a hole along another axis than was meant. */
export const planeLeftChanged = defineRule({
  code: 'plane-left-changed',
  severity: 'warning',
  silentInSubprograms: true,
  reason: 'In the wrong plane an arc stands upright, and a cycle drills sideways.',
  messages: {
    'tool-change':
      '{code} was left on before {tool} came in, so this {what} lies in the {plane} plane. Write G17 before it, or {code} again if that plane is meant.',
    cycle:
      '{code} is on, so this cycle drills along {axis} and {written} is only a place. Write G17 before it if {written} is the depth.',
  },
  arc(context) {
    if ((context.modes[Mode.leftOver] & LeftOver.plane) !== 0) judge(context, 'arc');
  },
  cycle(context) {
    const { modes, block } = context;
    if ((modes[Mode.leftOver] & LeftOver.plane) !== 0) {
      if (judge(context, 'cycle')) return;
    }
    if (modes[Mode.plane] === 17 || !isMeantDown(context)) return;
    const { third } = planeOf(modes[Mode.plane]);
    const written = block.wordText(block.slot[Z]);
    reportBlock(context, 'cycle', { code: `G${modes[Mode.plane]}`, axis: 'XYZ'[third], written });
  },
});

/** Reports once a tool; only where the program has spoken of G17, so that another plane is no habit of it. */
const judge = (context: RuleContext, what: string): boolean => {
  const { modes } = context;
  context.settle(LeftOver.plane);
  if (modes[Mode.plane] === 17 || (modes[Mode.leftOver] & LeftOver.sawXY) === 0) return false;
  const { name } = planeOf(modes[Mode.plane]);
  reportBlock(context, 'tool-change', { code: `G${modes[Mode.plane]}`, tool: toolName(modes), what, plane: name });
  return true;
};

/** Largest R, in mm, that reads as the clearance over a top face at zero. */
const MOST_CLEARANCE = 10;

/**
 * True where the depth of the plane in force lies above R (the hole would go up), and Z and R are as they are over a top
 * face at zero. Only in a program that has spoken of G17: with an angle head holes may well go up.
 */
const isMeantDown = ({ modes, block, unit }: RuleContext): boolean => {
  const retract = modes[Mode.cycleRetract];
  if (!block.has(Z) || modes[Mode.distance] === 91 || (modes[Mode.leftOver] & LeftOver.sawXY) === 0) return false;
  if (!(retract > 0 && retract <= MOST_CLEARANCE)) return false;
  return modes[Mode.cycleDepth] > retract && block.value(Z) < 0 && block.value(Z) * unit < retract;
};
