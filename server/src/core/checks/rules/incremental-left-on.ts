import { Given, LeftOver, Mode } from '../../machine/modes.ts';
import type { RuleContext } from '../rule.ts';
import { reportBlock, toolName } from '../support/carriedValue.ts';
import { defineRule } from '../support/gradedRule.ts';
import { findCode } from '../support/words.ts';

const LEFT = LeftOver.distance | LeftOver.distanceAtHome;

/** G91 that was left on over a tool change or the way home. */
export const incrementalLeftOn = defineRule({
  code: 'incremental-left-on',
  severity: 'warning',
  silentInSubprograms: true,
  reason: 'Coordinates meant from the zero are taken as steps, and the tool goes where nobody expects it.',
  messages: {
    home: 'G91 is still on since the way home, so {word} is a step from where the axis stands. Write G90 before it, or G91 again if a step is meant.',
    'tool-change':
      'G91 was left on before {tool} came in, so {word} is a step from where the axis stands. Write G90 before it, or G91 again if a step is meant.',
  },
  rapid: judge,
  firstCut: judge,
});

function judge(context: RuleContext): void {
  const { modes, block } = context;
  const left = modes[Mode.leftOver] & LEFT;
  if (left === 0 || modes[Mode.distance] !== 91 || findCode(block, [530]) >= 0) return;
  context.settle(LEFT);
  const isHome = (left & LeftOver.distanceAtHome) !== 0;
  const usesZero = (modes[Mode.leftOver] & LeftOver.sawAbsolute) !== 0;
  if (!usesZero && !(isHome && (modes[Mode.given] & Given.offset) !== 0)) return;
  reportBlock(context, isHome ? 'home' : 'tool-change', { word: axisWord(context), tool: toolName(modes) });
}

/** The block's first axis word as written. */
const axisWord = ({ block }: RuleContext): string => {
  for (let i = 0; i < block.wordCount; i++) {
    if ('XYZABCUVW'.includes(String.fromCharCode(65 + block.letters[i]))) return block.wordText(i);
  }
  return 'each number';
};
