/** What a generated block leaves behind it, against what was in force before. */
import type { BlockContext } from '../../server/src/core/blocks/context.ts';
import { entryLines } from '../../server/src/core/blocks/prove.ts';
import { Analysis } from '../../server/src/core/checks/analysis.ts';
import { Mode } from '../../server/src/core/machine/modes.ts';

const ALWAYS = ['plane', 'distance', 'arcDistance', 'feedMode', 'units', 'retract', 'pathControl', 'cycle'] as const;

/**
 * Names of the modes that a block leaves otherwise than they were. F, S and the spindle count where they were known before,
 * and the block changed no tool.
 */
export const notPutBack = (context: BlockContext, lines: readonly string[]): string[] => {
  const { entry } = context;
  const head = entryLines(context);
  const analysis = new Analysis([...head, ...lines, ''].join('\n'), context.configuration);
  analysis.run();
  const before = analysis.stateBefore(head.length).modes.slice();
  const after = analysis.stateAfter(head.length + lines.length - 1).modes;
  const same = (name: keyof typeof Mode, grid = 0): boolean => Math.abs(before[Mode[name]] - after[Mode[name]]) <= grid;
  const changed: string[] = ALWAYS.filter((name) => !same(name));
  // F is written to four places in inches, three in mm.
  if (entry.feed !== undefined && !same('feed', 0.0013)) changed.push('feed');
  const hasTool = lines.some((line) => /\bM6\b/.test(line));
  if (entry.speed !== undefined && !hasTool) {
    if (!same('speed')) changed.push('speed');
    if (entry.spindle !== 0 && !same('spindle')) changed.push('spindle');
  }
  return changed;
};
