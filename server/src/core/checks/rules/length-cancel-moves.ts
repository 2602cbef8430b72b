import { lengthInForce, offsetNumber } from '../../machine/machinePosition.ts';
import { Given, Mode } from '../../machine/modes.ts';
import { letterIndex } from '../../syntax/block.ts';
import { changesTool } from '../lengthFacts.ts';
import type { RuleContext } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';
import { findCode } from '../support/words.ts';

const Z = letterIndex('Z');
const NO_LENGTH = 49;

/** A tool length that is cancelled or exchanged while the tool stands over the work, and the move that carries it out. */
export const lengthCancelMoves = defineRule({
  code: 'length-cancel-moves',
  severity: 'warning',
  reason: 'The next move of Z carries the change of the length out, and drives the tool into the work.',
  onceUntil: Given.lengthJudged,
  messages: {
    sinks:
      '{code} takes {drop} {unit} off the length that Z counted with, so at Z{level} the tip of tool {tool} comes to Z{tip}. Go home with G91 G28 Z0 first.',
    down: 'G49 took the length of tool {tool} out, and this block goes down to Z{level} without it. Write G43 H{register} before it, or go home with G91 G28 Z0 before G49.',
    'in-work':
      'G49 takes the length of tool {tool} out at Z{from}, in the work, and this block moves Z by it. Go home with G91 G28 Z0 before G49.',
    cut: 'G49 took the length of tool {tool} out, and this block cuts without it. Write G43 H{register} before it.',
  },
  codes(context) {
    const { modes, before, block } = context;
    if (changesTool(block)) {
      context.takeBack(Given.lengthCancelled);
      return;
    }
    const was = before[Mode.lengthCompensation] !== NO_LENGTH;
    const is = modes[Mode.lengthCompensation] !== NO_LENGTH;
    const differs = modes[Mode.lengthRegister] !== before[Mode.lengthRegister];
    const hasCut = (before[Mode.given] & Given.lengthJudged) !== 0 && (before[Mode.given] & Given.toolChanged) !== 0;
    if (was && hasCut && (!is || differs)) context.give(Given.lengthCancelled);
    else if (is && !was) context.takeBack(Given.lengthCancelled);
  },
  rapid(context) {
    const { modes, block } = context;
    if ((modes[Mode.given] & Given.lengthCancelled) === 0 || !block.has(Z)) return;
    if (findCode(block, [530]) < 0) judge(context);
    if (modes[Mode.lengthCompensation] !== NO_LENGTH) context.takeBack(Given.lengthCancelled);
  },
  idle: ({ modes }) => (modes[Mode.given] & Given.lengthCancelled) === 0,
  cut(context) {
    const { modes, block } = context;
    if ((modes[Mode.given] & Given.lengthCancelled) === 0) return;
    if (modes[Mode.lengthCompensation] === NO_LENGTH) {
      context.report('cut', block.starts[0], block.ends[block.wordCount - 1], dataOf(context));
    }
    context.takeBack(Given.lengthCancelled);
  },
});

/** Judges a rapid of Z that carries the change out. */
const judge = (context: RuleContext): void => {
  const { block, modes, unit, position, target, configuration } = context;
  const from = position[2];
  const level = target[2];
  const isCancelled = modes[Mode.lengthCompensation] === NO_LENGTH;
  const drop = modes[Mode.lengthCarried] - lengthInForce(configuration, (field) => modes[field]);
  const report = (message: string, more: Readonly<Record<string, string | number>>): void => {
    const data = { ...dataOf(context), level: level / unit, from: from / unit, ...more };
    context.report(message, block.starts[0], block.ends[block.wordCount - 1], data);
    context.takeBack(Given.lengthCancelled);
  };
  if (!Number.isNaN(drop)) {
    const tip = level - drop;
    const code = isCancelled ? 'G49' : `H${modes[Mode.lengthRegister]}`;
    const unitName = unit === 1 ? 'mm' : 'in';
    if (drop > 0 && tip < topOf(context)) report('sinks', { code, drop: drop / unit, tip: tip / unit, unit: unitName });
  } else if (isCancelled && level < from) report('down', {});
  // Z0 is the machine's own zero where a shop keeps all of Z in the length registers.
  else if (isCancelled && from < 0 && level !== 0) report('in-work', {});
};

const dataOf = (context: RuleContext): { tool: number; register: number } => {
  const tool = context.modes[Mode.tool];
  return { tool, register: context.toolRow(tool)?.lengthOffset ?? tool };
};

/** Top of the blank in the work offset in force; its zero where no blank is given there. */
const topOf = ({ configuration, modes }: RuleContext): number => {
  const { stock } = configuration;
  if (stock === undefined || offsetNumber(stock.offset) !== modes[Mode.offset]) return 0;
  return stock.shape === 'box' ? stock.max[2] : stock.top;
};
