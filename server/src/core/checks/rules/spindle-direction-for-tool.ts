import { Mode } from '../../machine/modes.ts';
import type { ToolKind } from '../../reference/toolRemark.ts';
import { letterIndex } from '../../syntax/block.ts';
import type { RuleContext } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';
import { toolInSpindle } from '../support/toolInSpindle.ts';
import { isPlain, numberChanged } from '../support/words.ts';

/** Cutters with one cutting direction. Taps have rules of their own; boring bars and form cutters are used both ways. */
const ONE_WAY: ReadonlySet<ToolKind> = new Set([
  'drill',
  'end-mill',
  'ball-mill',
  'face-mill',
  'spot-drill',
  'centre-drill',
  'countersink',
  'reamer',
  'chamfer-mill',
]);
const M = letterIndex('M');

/** A spindle that turns a cutter backwards. */
export const spindleDirectionForTool = defineRule({
  code: 'spindle-direction-for-tool',
  severity: 'warning',
  reason: 'Turned backwards a cutter rubs with the backs of its edges, burns and breaks.',
  messages: {
    backwards:
      'M{found} turns this {hand}-hand cutter backwards ({source}). Write M{right}, or give it "hand": "{other}" in the tool table if it is made for M{found}.',
  },
  codes(context) {
    const { block, modes } = context;
    if (!block.has(M) || modes[Mode.tool] < 0) return;
    const place = directionWord(context);
    const tool = place < 0 ? undefined : toolInSpindle(context);
    if (tool === undefined || !ONE_WAY.has(tool.kind)) return;
    const right = tool.hand === 'left' ? 4 : 3;
    const found = block.values[place];
    if (found === right) return;
    const data = { found, right, hand: tool.hand, other: right === 3 ? 'left' : 'right', source: tool.source };
    const fixes = isPlain(block, place)
      ? [context.replace(`Write M${right}`, false, numberChanged(block, place, String(right)))]
      : [];
    context.report('backwards', block.starts[place], block.ends[place], data, fixes);
  },
});

/** Index of the block's last M3 or M4, −1 none. */
const directionWord = ({ block }: RuleContext): number => {
  for (let i = block.wordCount - 1; i >= 0; i--) {
    if (block.letters[i] === M && (block.values[i] === 3 || block.values[i] === 4)) return i;
  }
  return -1;
};
