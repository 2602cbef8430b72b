/** What a generated block was made for, held against tool table, remarks and blank as they are now. */
import type { GeneratedBlock } from '../../blocks/markers.ts';
import { readThread } from '../../blocks/readValues.ts';
import type { Configuration, ToolRow } from '../../machine/configuration.ts';
import { offsetName } from '../../machine/machinePosition.ts';
import { Mode, type ModePool } from '../../machine/modes.ts';
import { readToolRemark } from '../../reference/toolRemark.ts';
import type { ProgramFacts } from '../facts.ts';
import { asLength } from './programLengths.ts';
import { toolShape } from './toolShape.ts';

/** What differs. The first part of the id says which message tells it. */
export interface Difference {
  readonly message: 'tool-size' | 'given-size' | 'thread' | 'hand' | 'holder' | 'ratio';
  readonly data: Readonly<Record<string, string | number>>;
}

/** The tool that a part of a block works with, as far as it is known. */
interface PartTool {
  readonly name: string;
  readonly kind: ToolRow['kind'] | undefined;
  readonly diameter: number | undefined;
  /** Text of the thread's name. */
  readonly thread: string | undefined;
  readonly row: ToolRow | undefined;
}

/** Lengths are written to the micrometre; inch sizes are rounded once more on their way, mm. */
const SAME = 0.005;

/** Blocks whose corner radius is 0 where their remark names none. */
const WITH_CORNER: readonly string[] = [
  'helical-bore',
  'helical-boss',
  'clear-tap',
  'round-pocket',
  'rectangular-pocket',
  'slot',
  'face',
];
/** Operations of a block of holes that bring their own tool. */
const OPERATIONS: readonly string[] = ['spot', 'drill', 'countersink', 'counterbore', 'ream', 'bore', 'tap'];

/** All that differs between what a block was made for and what is there now; only what is certain. `modes` are those it begins under, undefined where it is never reached. */
export const differencesOf = (
  block: GeneratedBlock,
  { configuration, pool }: Pick<ProgramFacts, 'configuration' | 'pool'>,
  modes: number | undefined,
): Difference[] => {
  const unit = modes !== undefined && pool.at(modes, Mode.units) === 20 ? 25.4 : 1;
  const found: Difference[] = [];
  const own = partTool(block.raw['tool-number'], configuration, pool, modes);
  if (own !== undefined) found.push(...ofCutter(block, own, unit), ...ofThread(block.name, '', block.raw, own, unit));
  if (block.name === 'holes') {
    const first = (block.raw.operations ?? 'drill').toLowerCase().split(/[\s,]+/)[0];
    for (const operation of OPERATIONS) {
      const number = block.raw[`${operation}.tool-number`];
      const called = number === undefined ? undefined : partTool(number, configuration, pool, undefined);
      // The first operation goes on with the block's own tool.
      const tool = number === undefined && operation === first ? own : called;
      if (tool !== undefined) found.push(...ofOperation(operation, block.raw, tool, unit));
    }
  }
  if (modes !== undefined) found.push(...ofStock(block, configuration, pool, modes, unit));
  return found;
};

/** The tool with a number; without one the cutter that is in the spindle. Undefined where nothing is known of it. */
const partTool = (
  number: string | undefined,
  configuration: Configuration,
  pool: ModePool,
  modes: number | undefined,
): PartTool | undefined => {
  if (number !== undefined) {
    const row = configuration.tools.find((candidate) => candidate.number === Number(number));
    if (row === undefined) return undefined;
    return { name: `tool ${row.number}`, kind: row.kind, diameter: row.diameter, thread: row.thread, row };
  }
  if (modes === undefined) return undefined;
  const { number: inSpindle, kind, diameter, row } = toolShape(configuration, pool, modes);
  const remark = pool.string(pool.at(modes, Mode.toolRemark));
  const read = remark === '' ? undefined : readToolRemark(remark, pool.at(modes, Mode.units) === 20);
  const name = inSpindle < 0 ? 'the tool in the spindle' : `tool ${inSpindle}`;
  return { name, kind, diameter, thread: row?.thread ?? read?.thread?.name, row };
};

const LENGTH = /^([-+]?(?:\d+\.?\d*|\.\d+))\s*(MM|IN)?$/i;

/** A length of a marker, mm; NaN where it is none. */
const lengthOf = (text: string | undefined): number => {
  const match = LENGTH.exec(text?.trim() ?? '');
  return match === null ? Number.NaN : Number(match[1]) * (match[2]?.toUpperCase() === 'IN' ? 25.4 : 1);
};

const ofLength = (
  message: 'tool-size' | 'given-size',
  what: string,
  [was, is]: readonly [was: number, is: number | undefined],
  where: string,
  unit: number,
): Difference[] => {
  if (is === undefined || Number.isNaN(was) || Math.abs(was - is) <= SAME) return [];
  return [{ message, data: { what, was: asLength(was, unit), is: asLength(is, unit), where } }];
};

const ofDiameter = (was: string | undefined, { name, diameter }: PartTool, unit: number): Difference[] =>
  ofLength('tool-size', 'a diameter', [lengthOf(was), diameter], name, unit);

const ofCutter = ({ name, raw }: GeneratedBlock, tool: PartTool, unit: number): Difference[] => {
  if (raw.tool === undefined) return [];
  const corner = WITH_CORNER.includes(name) ? (raw['corner-radius'] ?? '0') : undefined;
  return [
    ...ofDiameter(raw.tool, tool, unit),
    ...ofLength('tool-size', 'a corner radius', [lengthOf(corner), tool.row?.cornerRadius], tool.name, unit),
  ];
};

const ofOperation = (operation: string, raw: GeneratedBlock['raw'], tool: PartTool, unit: number): Difference[] => {
  if (operation === 'tap') return ofThread('tapping', 'tap.', raw, tool, unit);
  const isAsWide = operation === 'drill' || operation === 'ream';
  return isAsWide ? ofDiameter(raw[`${operation}.diameter`], tool, unit) : [];
};

/** A tap, or a thread mill; the thread of a broken tap is not that of the tool. */
const ofThread = (
  block: string,
  prefix: string,
  raw: GeneratedBlock['raw'],
  { name, kind, thread, row }: PartTool,
  unit: number,
): Difference[] => {
  const wanted = block === 'tapping' ? 'tap' : block === 'thread-mill' ? 'thread-mill' : undefined;
  if (wanted === undefined || kind !== wanted) return [];
  const was = readThread(raw[`${prefix}thread`] ?? '');
  const is = thread === undefined ? undefined : readThread(thread);
  const found: Difference[] = [];
  if (was !== undefined && is !== undefined) {
    // One thread mill cuts all diameters of its pitch.
    const isOther =
      Math.abs(was.pitch - is.pitch) > 1e-4 || (wanted === 'tap' && Math.abs(was.diameter - is.diameter) > SAME);
    if (isOther) found.push({ message: 'thread', data: { was: was.name, is: is.name, where: name } });
  }
  if (wanted === 'tap' && row !== undefined) found.push(...ofTap(prefix, raw, row, name, unit));
  return found;
};

const HOLDERS: Readonly<Record<string, string>> = {
  synchronised: 'a synchronised holder',
  float: 'an axial float',
  reversing: 'a self-reversing head',
};

const ofTap = (prefix: string, raw: GeneratedBlock['raw'], row: ToolRow, where: string, unit: number): Difference[] => {
  const found: Difference[] = [];
  const hand = (raw[`${prefix}hand`] ?? readThread(raw[`${prefix}thread`] ?? '')?.hand ?? 'right').toLowerCase();
  if (row.hand !== undefined && row.hand !== hand)
    found.push({ message: 'hand', data: { was: hand, is: row.hand, where } });
  const { holder } = row;
  if (holder === undefined) return found;
  const kind = (raw[`${prefix}holder`] ?? 'synchronised').toLowerCase();
  if (kind !== holder.kind)
    return [...found, { message: 'holder', data: { was: HOLDERS[kind] ?? kind, is: HOLDERS[holder.kind], where } }];
  const ratio = Number(raw[`${prefix}ratio`] ?? Number.NaN);
  if (holder.ratio !== undefined && Math.abs(ratio - holder.ratio) > 1e-6)
    found.push({ message: 'ratio', data: { was: ratio, is: holder.ratio, where } });
  const selfFeed = lengthOf(raw[`${prefix}self-feed`]);
  return [
    ...found,
    ...ofLength('given-size', 'a self-feed', [selfFeed, holder.selfFeed], `the holder of ${where}`, unit),
  ];
};

/** The round blank of a boss, where both stand about one centre under one work offset. */
const ofStock = (
  { name, raw }: GeneratedBlock,
  { stock }: Configuration,
  pool: ModePool,
  modes: number,
  unit: number,
): Difference[] => {
  if (name !== 'helical-boss' || stock?.shape !== 'cylinder') return [];
  if (offsetName(pool.at(modes, Mode.offset)) !== stock.offset) return [];
  const [x, y] = (raw.at ?? raw.centre ?? '0,0').split(',').map(lengthOf);
  if (!(Math.hypot(x - stock.centre[0], y - stock.centre[1]) <= SAME)) return [];
  return ofLength('given-size', 'a blank', [lengthOf(raw.stock), stock.diameter], 'blockwright.json', unit);
};
