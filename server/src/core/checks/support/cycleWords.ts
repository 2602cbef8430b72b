/** What a block writes of the active cycle. */
import { Mode } from '../../machine/modes.ts';
import { AXIS_WORDS, planeOf } from '../../machine/planes.ts';
import { letterIndex } from '../../syntax/block.ts';
import type { RuleContext } from '../rule.ts';
import { findCode } from './words.ts';

/** Canned cycles, G number × 10. */
const CYCLES: readonly number[] = [730, 740, 760, 810, 820, 830, 840, 850, 860, 870, 880, 890];

const R = letterIndex('R');

/** The letter of the axis that the cycle drills along. */
export const depthLetter = (context: RuleContext): string => 'XYZ'[planeOf(context.modes[Mode.plane]).third];

/** Index of the block's cycle code, −1 where the cycle goes on from before. */
export const cycleCode = ({ block }: RuleContext): number => (block.codeCount === 0 ? -1 : findCode(block, CYCLES));

/** The active cycle's name. */
export const cycleName = (context: RuleContext): string => `G${context.modes[Mode.cycle] / 10}`;

/** True where the block calls the cycle or writes one of its levels. */
export const writesLevels = (context: RuleContext): boolean => {
  const { block, modes } = context;
  return block.has(R) || block.has(AXIS_WORDS[planeOf(modes[Mode.plane]).third]) || cycleCode(context) >= 0;
};

/** True where depth and R do not leave a hole: the depth is R, or beyond it against the drilling direction. */
export const isAboveRetract = (context: RuleContext): boolean => {
  const { modes } = context;
  const retract = modes[Mode.cycleRetract];
  const way = modes[Mode.cycleDepth] - retract;
  if (modes[Mode.plane] === 17) return way >= -1e-9;
  // With an angle head the tool may point either way: it comes from the initial level.
  const comesFrom = modes[Mode.cycleInitial] - retract;
  return Math.abs(way) < 1e-9 || comesFrom * way > 0;
};

/** True for a block that only names the drilling axis, above R: a way out that was meant as a move. */
export const isRetractInCycle = (context: RuleContext): boolean => {
  const { block, modes } = context;
  const { first, second, third } = planeOf(modes[Mode.plane]);
  if (!block.has(AXIS_WORDS[third]) || block.has(R) || cycleCode(context) >= 0) return false;
  return !block.has(AXIS_WORDS[first]) && !block.has(AXIS_WORDS[second]) && isAboveRetract(context);
};
