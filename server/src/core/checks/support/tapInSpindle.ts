/** What is known of the tap in the spindle, in the order of the language page: tool table, tool remark, operation remark. */
import type { Configuration, TapHolder, ToolRow } from '../../machine/configuration.ts';
import { Mode, type ModePool } from '../../machine/modes.ts';
import { parseThread, type Thread } from '../../reference/threadName.ts';
import { readToolRemark, type ToolFromRemark } from '../../reference/toolRemark.ts';
import type { ProgramFacts } from '../facts.ts';
import type { RuleContext } from '../rule.ts';

/** A tap as far as it is known. */
export interface Tap {
  readonly thread: Thread | undefined;
  readonly hand: 'right' | 'left';
  readonly holder: TapHolder | undefined;
  /** True where the shop's file assumes the holder, and nobody said that this tap has it. */
  readonly isHolderAssumed: boolean;
  /** It presses the thread in and cuts no chip. */
  readonly forming: boolean;
  /** For a wire insert: its hole is larger than the thread's own. */
  readonly forInsert: boolean;
  readonly row: ToolRow | undefined;
  /** Where it is known from, in the words of a message. */
  readonly source: string;
}

/** What the spindle carries. */
interface Carried {
  readonly number: number;
  readonly row: ToolRow | undefined;
  readonly toolRemark: string;
  readonly operationRemark: string;
  readonly inch: boolean;
  readonly assumedHolder: TapHolder['kind'] | undefined;
}

/** The tap in the spindle; undefined where the tool is something else or is not known. */
export const tapInSpindle = (context: RuleContext): Tap | undefined => {
  const { modes, assumedHolder } = context;
  const number = modes[Mode.tool];
  return tapOf({
    number,
    row: number >= 0 ? context.toolRow(number) : undefined,
    toolRemark: context.string(modes[Mode.toolRemark]),
    operationRemark: context.string(modes[Mode.operationRemark]),
    inch: context.unit !== 1,
    assumedHolder,
  });
};

interface KnownTaps {
  readonly configuration: Configuration;
  /** By the set of slow modes, which holds all that decides. */
  readonly bySetup: Map<number, Tap | undefined>;
  readonly byTool: Map<string, Tap | undefined>;
}

const known = new WeakMap<ModePool, KnownTaps>();

/** The tap that a set of modes has in the spindle; one object for one tap. */
export const tapUnder = ({ configuration, pool }: Pick<ProgramFacts, 'configuration' | 'pool'>, modes: number) => {
  let taps = known.get(pool);
  if (taps === undefined || taps.configuration !== configuration) {
    taps = { configuration, bySetup: new Map(), byTool: new Map() };
    known.set(pool, taps);
  }
  const setup = pool.at(modes, Mode.setup);
  const before = taps.bySetup.get(setup);
  if (before !== undefined || taps.bySetup.has(setup)) return before;
  const number = pool.at(modes, Mode.tool);
  const [toolRemark, operationRemark] = [pool.at(modes, Mode.toolRemark), pool.at(modes, Mode.operationRemark)];
  const inch = pool.at(modes, Mode.units) === 20;
  const key = `${number} ${toolRemark} ${operationRemark} ${inch}`;
  if (!taps.byTool.has(key)) {
    const tap = tapOf({
      number,
      row: number < 0 ? undefined : configuration.tools.find((row) => row.number === number),
      toolRemark: pool.string(toolRemark),
      operationRemark: pool.string(operationRemark),
      inch,
      assumedHolder: configuration.holder,
    });
    taps.byTool.set(key, tap);
  }
  const tap = taps.byTool.get(key);
  taps.bySetup.set(setup, tap);
  return tap;
};

const tapOf = (carried: Carried): Tap | undefined => {
  const { row, toolRemark, operationRemark, inch } = carried;
  if (row !== undefined) return row.kind === 'tap' ? tapOfRow(carried, row) : undefined;
  const read = toolRemark === '' ? undefined : readToolRemark(toolRemark, inch);
  if (read !== undefined) return remarked(carried, read, toolRemark);
  const operation = operationRemark === '' ? undefined : readToolRemark(operationRemark, inch);
  return operation && remarked(carried, operation, operationRemark);
};

const tapOfRow = (carried: Carried, row: ToolRow): Tap => {
  const remark = readToolRemark(carried.toolRemark, carried.inch);
  const read = remark?.kind === 'tap' ? remark : undefined;
  const thread = row.thread === undefined ? read?.thread : (parseThread(row.thread) ?? read?.thread);
  return {
    thread,
    hand: row.hand ?? thread?.hand ?? 'right',
    holder: row.holder ?? assumed(carried),
    isHolderAssumed: row.holder === undefined && carried.assumedHolder !== undefined,
    forming: row.forming ?? read?.forming ?? false,
    forInsert: read?.forInsert ?? false,
    row,
    source: `tool ${carried.number} in the tool table`,
  };
};

const remarked = (carried: Carried, read: ToolFromRemark, remark: string): Tap | undefined => {
  if (read.kind !== 'tap') return undefined;
  return {
    thread: read.thread,
    hand: read.hand,
    holder: assumed(carried),
    isHolderAssumed: carried.assumedHolder !== undefined,
    forming: read.forming ?? false,
    forInsert: read.forInsert ?? false,
    row: undefined,
    source: `remark ${remark.trim()}`,
  };
};

/** The holder that `blockwright.json` says is assumed: its kind alone, none of its lengths. */
const assumed = ({ assumedHolder }: Carried): TapHolder | undefined =>
  assumedHolder === undefined ? undefined : { kind: assumedHolder };
