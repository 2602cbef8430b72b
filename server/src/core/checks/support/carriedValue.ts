/** A tool's first cut that runs with an F or S given under another tool, or for tapping. */
import { LeftOver, Mode, Origin } from '../../machine/modes.ts';
import type { RuleContext } from '../rule.ts';

/** Whose value it is, in the words of a message: undefined where it is the tool's own, or one for the whole program. */
export const foreignOwner = (context: RuleContext, from: number): 'tapping' | 'before' | `T${number}` | undefined => {
  const { modes } = context;
  if (from === Origin.tapping) return isTapping(modes) ? undefined : 'tapping';
  if ((modes[Mode.leftOver] & LeftOver.newTool) === 0) return undefined;
  if (from === Origin.unknownTool) return 'before';
  return from >= 0 && from !== modes[Mode.tool] ? `T${from}` : undefined;
};

/** True under G84 and G74: their feed is judged by the pitch. */
export const isTapping = (modes: Float64Array): boolean => modes[Mode.cycle] === 840 || modes[Mode.cycle] === 740;

/** The tool in the spindle as a message names it. */
export const toolName = (modes: Float64Array): string => (modes[Mode.tool] >= 0 ? `T${modes[Mode.tool]}` : 'this tool');

/** Reports about all words of the block. */
export const reportBlock = (
  context: RuleContext,
  message: string,
  data: Readonly<Record<string, string | number>> = {},
): void => {
  const { block } = context;
  const start = block.wordCount > 0 ? block.starts[0] : block.start;
  const end = block.wordCount > 0 ? block.ends[block.wordCount - 1] : block.end;
  context.report(message, start, end, data);
};
