import { Given, Mode } from '../../machine/modes.ts';
import { letterIndex } from '../../syntax/block.ts';
import type { Fix, RuleContext } from '../rule.ts';
import {
  cycleCode,
  cycleName,
  depthLetter,
  isAboveRetract,
  isRetractInCycle,
  writesLevels,
} from '../support/cycleWords.ts';
import { defineRule } from '../support/gradedRule.ts';
import { findWord, isPlain, numberChanged } from '../support/words.ts';

/** A hole whose bottom is not below R. */
export const cycleDepthAboveRetract = defineRule({
  code: 'cycle-depth-above-retract',
  severity: 'error',
  reason: 'The control alarms, or the tool goes from R away from the work and no hole is made.',
  messages: {
    above:
      '{cycle} goes from R at {axis}{retract} to a bottom at {axis}{depth}, away from the work. Write the depth below R, or R above it.',
    equal: '{cycle} has R and its bottom both at {axis}{depth}, so nothing is drilled. Write the depth below R.',
  },
  cycle(context) {
    const { modes, block } = context;
    if (modes[Mode.cycle] === 870) return; // back boring works upwards on some controls
    if (!writesLevels(context) && (modes[Mode.given] & Given.cycleComplained) !== 0) return;
    if (!isAboveRetract(context) || isRetractInCycle(context)) return;
    const { unit } = context;
    const axis = depthLetter(context);
    const depth = modes[Mode.cycleDepth];
    const retract = modes[Mode.cycleRetract];
    const place = placeOf(context, axis);
    const start = place < 0 ? block.starts[0] : block.starts[place];
    const end = place < 0 ? block.ends[block.wordCount - 1] : block.ends[place];
    const isEqual = Math.abs(depth - retract) < 1e-9;
    const data = { cycle: cycleName(context), axis, depth: depth / unit, retract: retract / unit };
    context.report(isEqual ? 'equal' : 'above', start, end, data, isEqual ? [] : fixes(context, axis));
    context.give(Given.cycleComplained);
  },
});

/** The depth, or R, or the code; −1 where the block only goes on with the cycle. */
const placeOf = (context: RuleContext, axis: string): number => {
  const depth = findWord(context.block, axis);
  if (depth >= 0) return depth;
  const retract = findWord(context.block, 'R');
  return retract >= 0 ? retract : cycleCode(context);
};

/** The sign that was left out, or R and depth the other way round. */
const fixes = (context: RuleContext, axis: string): Fix[] => {
  const { block, modes } = context;
  const depth = findWord(block, axis);
  const retract = findWord(block, 'R');
  const shifted = modes[Mode.scaling] === 1 || modes[Mode.localShift + letterIndex(axis) - letterIndex('X')] !== 0;
  if (depth < 0 || !isPlain(block, depth) || shifted || modes[Mode.plane] !== 17) return [];
  const written = (word: number): string => block.wordText(word).slice(1).trim();
  const found: Fix[] = [];
  const unsigned = written(depth).replace(/^\+/, '');
  const isBelow = modes[Mode.distance] === 91 || -modes[Mode.cycleDepth] < modes[Mode.cycleRetract];
  if (block.values[depth] > 0 && isBelow) {
    found.push(context.replace(`Write ${axis}-${unsigned}`, false, numberChanged(block, depth, `-${unsigned}`)));
  }
  if (retract < 0 || !isPlain(block, retract) || modes[Mode.distance] === 91) return found;
  if (!(block.values[retract] < 0 && block.values[depth] > 0)) return found;
  const title = `Write ${axis}${written(retract)} R${written(depth)}`;
  found.push(
    context.replace(
      title,
      false,
      numberChanged(block, depth, written(retract)),
      numberChanged(block, retract, written(depth)),
    ),
  );
  return found;
};
