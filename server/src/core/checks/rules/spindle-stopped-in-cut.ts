import { Given, Mode } from '../../machine/modes.ts';
import { letterIndex } from '../../syntax/block.ts';
import type { RuleContext } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';

/** Tools that cut or feel without turning. */
const NOT_TURNING = /PROBE|BROACH|DRAG|SHAPER|SLOTTING|FINDER|TASTER/i;
const Z = letterIndex('Z');

/** A cut after M5 or a tool change without the spindle being started again. */
export const spindleStoppedInCut = defineRule({
  code: 'spindle-stopped-in-cut',
  severity: 'warning',
  silentInSubprograms: true,
  onceUntil: Given.spindleComplained,
  reason: 'A cutter that does not turn breaks as it touches the part.',
  messages: {
    stopped: 'The spindle was stopped by M5 and this block cuts. Write M3 (or M4 for a left-hand cutter) before it.',
    changed: 'The tool was changed and the spindle not started again, and this block cuts. Write M3 (or M4) before it.',
  },
  idle: ({ modes }) => !isStopped(modes) || turnsByItself(modes),
  cut(context) {
    const { modes, block } = context;
    if (!isStopped(modes) || turnsByItself(modes) || isNotTurning(context) || isRetract(context)) return;
    const start = block.wordCount > 0 ? block.starts[0] : block.start;
    const end = block.wordCount > 0 ? block.ends[block.wordCount - 1] : block.end;
    context.report(modes[Mode.given] & Given.spindleStopped ? 'stopped' : 'changed', start, end);
  },
});

const isStopped = (modes: Float64Array): boolean =>
  (modes[Mode.given] & Given.spindleStarted) !== 0 && modes[Mode.spindle] !== 3 && modes[Mode.spindle] !== 4;

/** Tapping cycles start the spindle themselves on controls with synchronised tapping; probing wants it still. */
const turnsByItself = (modes: Float64Array): boolean =>
  modes[Mode.cycle] === 840 || modes[Mode.cycle] === 740 || modes[Mode.motion] >= 380;

const isNotTurning = (context: RuleContext): boolean => {
  const { modes } = context;
  const tool = modes[Mode.tool];
  const kind = tool < 0 ? undefined : context.toolRow(tool)?.kind;
  if (kind === 'probe') return true;
  return NOT_TURNING.test(context.string(modes[Mode.toolRemark]) + context.string(modes[Mode.operationRemark]));
};

/** A move of Z alone to above the zero: a slow way out, not a cut. */
const isRetract = (context: RuleContext): boolean => {
  const { block } = context;
  const others = ['X', 'Y', 'A', 'B', 'C', 'U', 'V', 'W'].some((letter) => block.has(letterIndex(letter)));
  return block.has(Z) && !others && block.value(Z) > 0;
};
