/** From the shop's file's own unit to mm and mm/min, and names to one way of writing. Angles, times and speeds stay. */
import type { AxisLetter, Machine, MachineAxis, Stock, ToolRow } from './configuration.ts';
import { offsetName, offsetNumber } from './machinePosition.ts';

/** A copy with the numbers under these keys times `unit`; keys that are not there stay away. */
function scaled<Group extends object>(group: Group, keys: readonly (keyof Group & string)[], unit: number): Group {
  const values = group as Readonly<Record<string, unknown>>;
  const copy: Record<string, unknown> = { ...values };
  for (const key of keys) {
    const value = values[key];
    if (typeof value === 'number') copy[key] = value * unit;
    else if (Array.isArray(value)) copy[key] = value.map((one: number) => one * unit);
  }
  return copy as Group;
}

/** A row of the tool table in mm. */
export function toolInMillimetres(row: ToolRow, unit: number): ToolRow {
  const tool = scaled(row, ['diameter', 'cornerRadius', 'tip', 'length', 'fluteLength'], unit);
  if (row.holder === undefined) return tool;
  return { ...tool, holder: scaled(row.holder, ['float', 'selfFeed', 'freeUp'], unit) };
}

/** The blank in mm, at G54 where the file says no offset. */
export function stockInMillimetres(stock: Omit<Stock, 'offset'> & { readonly offset?: string }, unit: number): Stock {
  const offset = offsetName(offsetNumber(stock.offset ?? 'G54'));
  const own = { ...stock, offset } as Stock;
  if (own.shape === 'box') return scaled(own, ['min', 'max'], unit);
  return scaled(own, ['diameter', 'centre', 'top', 'bottom'], unit);
}

const isRotary = (axis: string): boolean => axis === 'A' || axis === 'B' || axis === 'C';

const byAxis = <Value>(
  group: Readonly<Partial<Record<AxisLetter, Value>>>,
  turn: (value: Value, axis: string) => Value,
): Partial<Record<AxisLetter, Value>> =>
  Object.fromEntries(Object.entries(group).map(([axis, value]) => [axis, turn(value, axis)]));

/** The machine in mm and mm/min; accelerations are mm/s² in the file already. */
export function machineInMillimetres(machine: Partial<Machine>, unit: number): Machine {
  const axis = (one: MachineAxis, letter: string): MachineAxis =>
    isRotary(letter) ? one : scaled(one, ['min', 'max', 'rapid', 'reference'], unit);
  const zero = (value: number, letter: string): number => (isRotary(letter) ? value : value * unit);
  return {
    ...scaled(machine, ['topFeed', 'cornerTolerance'], unit),
    axes: byAxis(machine.axes ?? {}, axis),
    workOffsets: Object.fromEntries(
      Object.entries(machine.workOffsets ?? {}).map(([name, zeros]) => [
        offsetName(offsetNumber(name)),
        byAxis(zeros, zero),
      ]),
    ),
  };
}
