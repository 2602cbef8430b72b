import type { Stock } from '../../machine/configuration.ts';
import { offsetNumber } from '../../machine/machinePosition.ts';
import { Given, Mode } from '../../machine/modes.ts';
import { letterIndex } from '../../syntax/block.ts';
import { changesTool } from '../lengthFacts.ts';
import type { Fix, RuleContext } from '../rule.ts';
import { cycleName, depthLetter, isRetractInCycle, writesLevels } from '../support/cycleWords.ts';
import { defineRule } from '../support/gradedRule.ts';
import { toolInSpindle } from '../support/toolInSpindle.ts';
import { findCode } from '../support/words.ts';

const M = letterIndex('M');
const N = letterIndex('N');
/** How far beside the blank a hole begins to be no hole, where the tool's diameter is not known, mm. */
const MARGIN = 10;

/** A cycle that is still on where a move or a tool change was meant. */
export const cycleLeftOn = defineRule({
  code: 'cycle-left-on',
  severity: 'warning',
  reason: 'While a cycle is on, every block with an axis word drills a hole where it ends.',
  messages: {
    'tool-change':
      '{cycle} is still on at this tool change, and the next block with an axis word drills with it. Write G80 before it.',
    'way-out':
      '{cycle} is still on, so {axis}{level} is the depth of another hole, above R, and no way up. Write G80 in the block before, or G0 in this one.',
    machine: '{cycle} is still on, so this block drills instead of moving in machine coordinates. Write G0 before G53.',
    'program-end':
      '{cycle} is still on, so this block drills one more hole and ends the program. Write G80 before it, or the hole in a block of its own.',
    beside:
      '{cycle} is still on and drills here at X{x} Y{y}, beside the blank. Write G80 before it if only a move is meant.',
  },
  wanted: (configuration) => configuration.stock !== undefined,
  codes(context) {
    const { block, modes } = context;
    if (modes[Mode.cycle] === 0 || !changesTool(block)) return;
    report(context, 'tool-change', {}, offFix(context));
  },
  cycle(context) {
    const { block, modes, unit } = context;
    const machine = block.codeCount === 0 ? -1 : findCode(block, [530]);
    if (machine >= 0) {
      report(context, 'machine', {}, insertion(context, 'G0', block.starts[machine]));
      return;
    }
    if (endsProgram(context)) {
      report(context, 'program-end', {}, []);
      return;
    }
    if (!isRetractInCycle(context)) return;
    const data = { axis: depthLetter(context), level: modes[Mode.cycleDepth] / unit };
    report(context, 'way-out', data, insertion(context, 'G0', firstWord(context)));
    // The wrong depth stays with the cycle: told once.
    context.give(Given.cycleComplained);
  },
  idle({ modes, configuration: { stock } }) {
    if (modes[Mode.cycle] === 0 || stock === undefined || offsetNumber(stock.offset) !== modes[Mode.offset])
      return true;
    return (modes[Mode.given] & Given.cycleComplained) !== 0 || modes[Mode.plane] !== 17;
  },
  cut(context) {
    const { modes, configuration, position, unit } = context;
    const { stock } = configuration;
    if (modes[Mode.cycle] === 0 || stock === undefined || offsetNumber(stock.offset) !== modes[Mode.offset]) return;
    if ((modes[Mode.given] & Given.cycleComplained) !== 0 || modes[Mode.plane] !== 17 || writesLevels(context)) return;
    const margin = (toolInSpindle(context)?.diameter ?? 2 * MARGIN) / 2;
    if (!(distanceBeside(stock, position[0], position[1]) > margin)) return;
    report(context, 'beside', { x: position[0] / unit, y: position[1] / unit }, []);
    context.give(Given.cycleComplained);
  },
});

const report = (
  context: RuleContext,
  message: string,
  data: Readonly<Record<string, string | number>>,
  fixes: readonly Fix[],
): void => {
  const { block } = context;
  const end = block.ends[block.wordCount - 1];
  context.report(message, firstWord(context), end, { cycle: cycleName(context), ...data }, fixes);
};

const endsProgram = ({ block }: RuleContext): boolean => {
  if (!block.has(M)) return false;
  for (let i = 0; i < block.wordCount; i++) {
    if (block.letters[i] === M && (block.values[i] === 30 || block.values[i] === 2)) return true;
  }
  return false;
};

/** Offset of the first word behind the sequence number. */
const firstWord = ({ block }: RuleContext): number => {
  for (let i = 0; i < block.wordCount; i++) if (block.letters[i] !== N) return block.starts[i];
  return block.start;
};

const insertion = (context: RuleContext, code: string, start: number): Fix[] => [
  context.replace(`Write ${code} before it`, false, { start, end: start, text: `${code} ` }),
];

/** G80 in the block of the tool change; not where it would move with the block's axis words. */
const offFix = (context: RuleContext): Fix[] => {
  const { block } = context;
  const hasAxis = ['X', 'Y', 'Z', 'A', 'B', 'C', 'U', 'V', 'W'].some((letter) => block.has(letterIndex(letter)));
  return hasAxis ? [] : insertion(context, 'G80', firstWord(context));
};

/** How far a place is beside the blank, mm; 0 or less over it. */
const distanceBeside = (stock: Stock, x: number, y: number): number => {
  if (stock.shape === 'cylinder') return Math.hypot(x - stock.centre[0], y - stock.centre[1]) - stock.diameter / 2;
  const besideX = Math.max(stock.min[0] - x, x - stock.max[0]);
  const besideY = Math.max(stock.min[1] - y, y - stock.max[1]);
  return Math.max(besideX, besideY);
};
