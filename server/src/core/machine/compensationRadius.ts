/**
 * How large the cutter is that radius compensation (G41, G42) counts with. In this order: the D register as the program
 * set it (G10 L12, wear L13), the row of the tool table that the register belongs to, the row of the tool in the spindle,
 * the tool's remark. G10 L12 and L13 are common practice, no source.
 */
import { readToolRemark } from '../reference/toolRemark.ts';
import type { Variables } from '../syntax/variables.ts';
import type { Configuration, ToolRow } from './configuration.ts';
import { Mode, type ModePool } from './modes.ts';

/** The cutter's radius in mm and where it is known from. */
export interface CompensationRadius {
  /** NaN: not known, the programmed path is run. Negative: the cutter runs on the other side. */
  readonly radius: number;
  /** Only a remark says it: the register in the control may hold something else. */
  readonly isAssumed: boolean;
}

const UNKNOWN: CompensationRadius = { radius: Number.NaN, isAssumed: false };

/** Names under which G10 L12 (radius) and L13 (wear) keep a register among the variables. */
export const radiusKey = (register: number): string => `radius ${register}`;
export const radiusWearKey = (register: number): string => `radius wear ${register}`;

/** The row of the tool table that a D register belongs to: by `radiusOffset`, or by its number where that is left out. */
const rowOfRegister = (tools: readonly ToolRow[], register: number): ToolRow | undefined =>
  tools.find(({ number, radiusOffset }) => (radiusOffset ?? number) === register);

/** The radius in force; D0 is none. */
export const compensationRadius = (
  modes: Float64Array,
  configuration: Configuration,
  variables: Variables,
  pool: ModePool,
): CompensationRadius => {
  const register = modes[Mode.radiusRegister];
  if (register === 0 || Number.isNaN(register)) return UNKNOWN;
  const part = configuration.profile.offsetRegister === 'diameter' ? 0.5 : 1;
  const written = variables.get(radiusKey(register));
  const wear = (variables.get(radiusWearKey(register)) ?? 0) * part;
  if (written !== undefined) return { radius: written * part + wear, isAssumed: false };
  const { tools } = configuration;
  const diameter =
    (register > 0 ? rowOfRegister(tools, register)?.diameter : undefined) ??
    tools.find(({ number }) => number === modes[Mode.tool])?.diameter;
  if (diameter !== undefined) return { radius: diameter / 2 + wear, isAssumed: false };
  return byRemark(modes, pool, wear);
};

const byRemark = (modes: Float64Array, pool: ModePool, wear: number): CompensationRadius => {
  if (modes[Mode.toolRemark] === 0) return UNKNOWN;
  const diameter = readToolRemark(pool.string(modes[Mode.toolRemark]), modes[Mode.units] === 20)?.diameter;
  return diameter === undefined ? UNKNOWN : { radius: diameter / 2 + wear, isAssumed: true };
};
