/** Findings of radius compensation that count with a remark's radius: the register may hold another, so they are told once. */
import { Given, Mode } from '../../machine/modes.ts';
import type { RuleContext } from '../rule.ts';

/** True if one was told since the last G40; notes that one is told now. */
export const isAssumedTold = (context: RuleContext): boolean => {
  if ((context.modes[Mode.given] & Given.assumedRadiusTold) !== 0) return true;
  context.give(Given.assumedRadiusTold);
  return false;
};
