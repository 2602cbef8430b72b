/** What is known of the tap in the spindle, in the order of the language page: tool table, tool remark, operation remark. */
import type { TapHolder } from '../../machine/configuration.ts';
import { Mode } from '../../machine/modes.ts';
import { parseThread, type Thread } from '../../reference/threadName.ts';
import { readToolRemark } from '../../reference/toolRemark.ts';
import type { RuleContext } from '../rule.ts';

/** A tap as far as it is known. */
export interface Tap {
  readonly thread: Thread | undefined;
  readonly holder: TapHolder | undefined;
  /** Where it is known from, in the words of a message. */
  readonly source: string;
}

/** The tap in the spindle; undefined where the tool is something else or is not known. */
export const tapInSpindle = (context: RuleContext): Tap | undefined => {
  const tool = context.modes[Mode.tool];
  const row = tool >= 0 ? context.toolRow(tool) : undefined;
  if (row !== undefined) {
    if (row.kind !== 'tap') return undefined;
    const thread = row.thread === undefined ? undefined : parseThread(row.thread);
    const remarked = thread ?? remarkedTap(context, Mode.toolRemark)?.thread;
    return { thread: remarked, holder: row.holder ?? assumed(context), source: `tool ${tool} in the tool table` };
  }
  const toolRemark = context.string(context.modes[Mode.toolRemark]);
  if (readToolRemark(toolRemark, context.unit !== 1) !== undefined) {
    const tap = remarkedTap(context, Mode.toolRemark);
    return tap && { thread: tap.thread, holder: assumed(context), source: `remark ${toolRemark.trim()}` };
  }
  const tap = remarkedTap(context, Mode.operationRemark);
  const remark = context.string(context.modes[Mode.operationRemark]).trim();
  return tap && { thread: tap.thread, holder: assumed(context), source: `remark ${remark}` };
};

/** The holder that `blockwright.json` says is assumed: its kind alone, none of its lengths. */
const assumed = (context: RuleContext): TapHolder | undefined =>
  context.assumedHolder === undefined ? undefined : { kind: context.assumedHolder };

const remarkedTap = (context: RuleContext, mode: number) => {
  const read = readToolRemark(context.string(context.modes[mode]), context.unit !== 1);
  return read?.kind === 'tap' ? read : undefined;
};
