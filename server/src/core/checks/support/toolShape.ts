/** The cutter in the spindle as far as it is known: the shop's tool table first, then its remark, as the language page says. */
import type { Configuration, ToolRow } from '../../machine/configuration.ts';
import { Mode, type ModePool } from '../../machine/modes.ts';
import { readToolRemark, type ToolKind } from '../../reference/toolRemark.ts';
import type { RuleContext } from '../rule.ts';

/** Radius taken for a cutter that nobody described, mm: larger than usual ones, so that it reaches too far and not too little. */
const UNKNOWN_RADIUS = 100;

/** A cutter. Lengths mm, angles degrees. */
export interface ToolShape {
  /** Number in the program, −1 unknown. */
  readonly number: number;
  readonly row: ToolRow | undefined;
  readonly kind: ToolKind | undefined;
  readonly diameter: number | undefined;
  readonly pointAngle: number | undefined;
}

interface KnownShapes {
  /** By set of modes, and by what in them decides. */
  readonly byModes: (ToolShape | undefined)[];
  readonly byTool: Map<string, ToolShape>;
}

const known = new WeakMap<ModePool, KnownShapes>();

/** The cutter that a set of modes has in the spindle; one object for one cutter. */
export const toolShape = (configuration: Configuration, pool: ModePool, modes: number): ToolShape => {
  let shapes = known.get(pool);
  if (shapes === undefined) {
    shapes = { byModes: [], byTool: new Map() };
    known.set(pool, shapes);
  }
  const before = shapes.byModes[modes];
  if (before !== undefined) return before;
  const number = pool.at(modes, Mode.tool);
  const remark = pool.at(modes, Mode.toolRemark);
  const inch = pool.at(modes, Mode.units) === 20;
  const key = `${number} ${remark} ${inch}`;
  const shape = shapes.byTool.get(key) ?? shapeOf(configuration, number, pool.string(remark), inch);
  shapes.byTool.set(key, shape);
  shapes.byModes[modes] = shape;
  return shape;
};

/** The cutter in the spindle while a block is judged. */
export const toolInSpindle = (context: RuleContext): ToolShape => {
  const { configuration, modes } = context;
  return shapeOf(configuration, modes[Mode.tool], context.string(modes[Mode.toolRemark]), context.unit !== 1);
};

const shapeOf = (configuration: Configuration, number: number, remark: string, inch: boolean): ToolShape => {
  const row = number < 0 ? undefined : configuration.tools.find((candidate) => candidate.number === number);
  const read = remark === '' ? undefined : readToolRemark(remark, inch);
  return {
    number,
    row,
    kind: row?.kind ?? read?.kind,
    diameter: row?.diameter ?? read?.diameter,
    pointAngle: row?.pointAngle ?? read?.pointAngle,
  };
};

/** "tool 3", or "the tool" where its number is not known. */
export const toolName = (tool: ToolShape): string => (tool.number < 0 ? 'the tool' : `tool ${tool.number}`);

/** The same at the start of a sentence. */
export const toolNameFirst = (tool: ToolShape): string => (tool.number < 0 ? 'The tool' : `Tool ${tool.number}`);

/** Half a cutter's diameter, or more than it can be. */
export const radiusOf = ({ diameter }: ToolShape): number => (diameter === undefined ? UNKNOWN_RADIUS : diameter / 2);

const FLAT_KINDS: readonly (ToolKind | undefined)[] = ['end-mill', 'face-mill'];

/** Radius of a cutter's flat end, mm; 0 where it has none or nobody knows it. */
export const flatRadius = ({ kind, diameter, row }: ToolShape): number =>
  diameter === undefined || !FLAT_KINDS.includes(kind) ? 0 : Math.max(0, diameter / 2 - (row?.cornerRadius ?? 0));

/** The outside of a cutter must reach in by more than this to be sure, mm: a cutter may be reground. */
const REGROUND = 0.5;

/** How far the flat end of a cutter surely reaches, mm: of an end mill with its diameter in the tool table; 0 for others. */
export const sureReach = (tool: ToolShape): number =>
  tool.kind !== 'end-mill' || tool.row?.diameter === undefined ? 0 : Math.max(0, flatRadius(tool) - REGROUND);
