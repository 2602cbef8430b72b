/**
 * From work coordinates to machine coordinates: machine = work + zero of the work offset + the tool length that Z carries.
 * Zeros come from the shop's file (`machine.workOffsets`) or from G10; lengths from the tool table by the H register. Two
 * modes keep both with every move (`Mode.zero`, `Mode.lengthCarried`), so that G10, G43 and G49 count from where they
 * stand. Sums as in NIST IR 6556 (from memory): G43 adds the register to Z, G44 takes it off, in every plane.
 */
import type { AxisLetter, Configuration, ToolRow } from './configuration.ts';
import { AXIS_COUNT } from './letters.ts';
import { Mode } from './modes.ts';

/** The axes' letters in the order of positions. */
export const AXES: readonly AxisLetter[] = ['X', 'Y', 'Z', 'A', 'B', 'C', 'U', 'V', 'W'];

/** The place of Z in a position: the axis that tool lengths belong to. */
export const LENGTH_AXIS = 2;

/** A mode of a move, as `(field) => pool.at(moves.modes[i], field)` or `(field) => modes[field]`. */
export type ModesAt = (field: number) => number;

const offsetNames = new Map<string, number>();

/** The mode of a work offset by its name as written: G54 → 540, G59.1 → 591, G54.1 P3 → 10003; −1 where it is none. */
export const offsetNumber = (name: string): number => {
  const known = offsetNames.get(name);
  if (known !== undefined) return known;
  const match = /^G(5[4-9]|59\.[1-3])$/i.exec(name);
  const further = /^G54\.1 ?P(\d+)$/i.exec(name);
  const number = match ? Math.round(Number(match[1]) * 10) : further ? 10_000 + Number(further[1]) : -1;
  offsetNames.set(name, number);
  return number;
};

/** The name of a work offset from its mode, such as G54, G59.1 or G54.1 P3. */
export const offsetName = (mode: number): string => (mode > 10_000 ? `G54.1 P${mode - 10_000}` : `G${mode / 10}`);

/** Machine coordinate of a work offset's zero as the shop's file gives it (mm, degrees); NaN where it does not. */
export const configuredZero = (configuration: Configuration, offset: number, axis: number): number => {
  const offsets = configuration.machine?.workOffsets;
  if (offsets === undefined) return Number.NaN;
  for (const name of Object.keys(offsets)) {
    if (offsetNumber(name) === offset) return offsets[name][AXES[axis]] ?? Number.NaN;
  }
  return Number.NaN;
};

/** Machine coordinate of the reference point (G28) on an axis, mm or degrees; NaN where it is not given. */
export const referenceOf = (configuration: Configuration, axis: number): number =>
  configuration.machine?.axes[AXES[axis]]?.reference ?? Number.NaN;

const tables = new WeakMap<readonly ToolRow[], Map<number, ToolRow>>();

/** The row whose length a register holds: its `lengthOffset`, or its number where that is left out. */
const rowOfRegister = (tools: readonly ToolRow[], register: number, tool: number): ToolRow | undefined => {
  let table = tables.get(tools);
  if (table === undefined) {
    table = new Map();
    for (const row of tools) {
      const number = row.lengthOffset ?? row.number;
      if (!table.has(number)) table.set(number, row);
    }
    tables.set(tools, table);
  }
  const first = table.get(register);
  if (first === undefined || first.number === tool) return first;
  // Two tools may share a register; then the tool in the spindle is meant.
  return tools.find((row) => row.number === tool && (row.lengthOffset ?? row.number) === register) ?? first;
};

/** Length that the tool table gives for a register (H), mm; NaN where it gives none. */
export const configuredLength = (configuration: Configuration, register: number): number =>
  rowOfRegister(configuration.tools, register, -1)?.length ?? Number.NaN;

/** What G43, G44 or G49 add to Z, mm: 0 without compensation or under H0; NaN where the tool table gives no length. */
export const lengthInForce = (configuration: Configuration, at: ModesAt): number => {
  const code = at(Mode.lengthCompensation);
  const register = at(Mode.lengthRegister);
  if (code === 49 || register === 0) return 0;
  const row = rowOfRegister(configuration.tools, register, at(Mode.tool));
  const length = row?.length ?? Number.NaN;
  return code === 44 ? -length : length;
};

/**
 * Machine coordinate on one axis (0 X, 1 Y, 2 Z, 3 A …) of a work coordinate that is reached under these modes: the end
 * of a kept move, or any point of its way. mm, degrees; NaN where the zero, the tool length or the work coordinate is not
 * known.
 */
export const machineCoordinate = (at: ModesAt, axis: number, work: number): number =>
  work + at(Mode.zero + axis) + (axis === LENGTH_AXIS ? at(Mode.lengthCarried) : 0);

/**
 * Machine position of a work position (X Y Z, or all nine axes) that is reached under these modes; see
 * `machineCoordinate`. A move's start has the machine position of the end before it.
 */
export const machinePositionOf = (at: ModesAt, work: ArrayLike<number>): number[] =>
  Array.from({ length: Math.min(work.length, AXIS_COUNT) }, (_, axis) => machineCoordinate(at, axis, work[axis]));
