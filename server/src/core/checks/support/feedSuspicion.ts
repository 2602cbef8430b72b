/**
 * A first look whether any tool of a program has a feed that reads like a slip: over the sets of modes alone, which hold
 * every feed of the program (and some of earlier texts), so that a program without one costs nothing.
 */
import type { ToolRow } from '../../machine/configuration.ts';
import type { ModePool } from '../../machine/modes.ts';
import { cutterOf, slipOf } from './feedSlip.ts';
import { type FeedUse, feedOf } from './feedUse.ts';

/** With more feeds than these under one number a closer look is cheaper than comparing them all. */
const MOST = 64;

interface Look {
  /** How many sets of modes were looked at. */
  read: number;
  found: boolean;
  readonly byTool: Map<number, FeedUse[]>;
}

const looks = new WeakMap<ModePool, Look>();

/** False where surely no feed of the program is a slip. */
export const mayHaveSlip = (pool: ModePool, rows: ReadonlyMap<number, ToolRow>): boolean => {
  let look = looks.get(pool);
  if (look === undefined) {
    look = { read: 0, found: false, byTool: new Map() };
    looks.set(pool, look);
  }
  while (look.read < pool.count && !look.found) look.found = isFound(look, pool, look.read++, rows);
  return look.found;
};

const isFound = ({ byTool }: Look, pool: ModePool, id: number, rows: ReadonlyMap<number, ToolRow>): boolean => {
  const what = feedOf(pool, id);
  if (!(what.feed > 0)) return false;
  const uses = byTool.get(what.tool) ?? [];
  if (uses.some((use) => use.what === what)) return false;
  const added: FeedUse = { ...what, what, flat: true, line: 0 };
  uses.push(added);
  byTool.set(what.tool, uses);
  if (uses.length > MOST) return true;
  return uses.some((use) => {
    const row = rows.get(use.tool);
    const others = use === added ? uses : [added];
    return slipOf(use, others, cutterOf(row, pool.string(use.remark), use.units === 20)) !== undefined;
  });
};
