/** The variables of a program: numbered (#101) and named (#<depth>). */

/** A variable's name: its number, or its name in lower case without spaces. */
export type VariableName = number | string;

/** Variables with cheap snapshots: copied only when something is assigned after a snapshot was taken. */
export class Variables {
  private values: Map<VariableName, number>;
  private shared: boolean;
  /** The control's own variables (#1000 and up), read where the program set none; undefined or NaN where not known. */
  system: ((number: number) => number | undefined) | undefined;
  /** Set once one of the control's own variables was read: from then on values may hang on modes and positions. */
  systemWasRead = false;

  constructor(values: Map<VariableName, number> = new Map()) {
    this.values = values;
    this.shared = true;
  }

  /** The value; undefined if it was never set; NaN if it is set but not known. */
  get(name: VariableName): number | undefined {
    const value = this.values.get(name);
    if (value !== undefined || this.system === undefined || typeof name === 'string' || name < 1000) return value;
    this.systemWasRead = true;
    return this.system(name);
  }

  /** What the program itself set, whatever the control holds. */
  own(name: VariableName): number | undefined {
    return this.values.get(name);
  }

  /** Sets a value; undefined empties the variable. */
  set(name: VariableName, value: number | undefined): void {
    if (this.shared) {
      this.values = new Map(this.values);
      this.shared = false;
    }
    if (value === undefined) this.values.delete(name);
    else this.values.set(name, value);
  }

  /** The values as they are now; later changes do not touch what was handed out. */
  snapshot(): ReadonlyMap<VariableName, number> {
    this.shared = true;
    return this.values;
  }

  /** True if the values are those of a snapshot (NaN equals NaN); those that only a system variable can read are left out unless one was read. */
  decideAlike(values: ReadonlyMap<VariableName, number>): boolean {
    if (this.systemWasRead) return sameVariables(this.values, values);
    return this.values === values || (isWithin(this.values, values) && isWithin(values, this.values));
  }

  /** Takes over a snapshot. */
  restore(values: ReadonlyMap<VariableName, number>): void {
    this.values = values as Map<VariableName, number>;
    this.shared = true;
  }
}

/** True for what the machine keeps beside the program's own variables: keys of more than one word, such as work offsets. */
const isMachines = (name: VariableName): boolean => typeof name === 'string' && name.startsWith('offset ');

/** True if all of the program's own variables in `a` have the same values in `b`. */
const isWithin = (a: ReadonlyMap<VariableName, number>, b: ReadonlyMap<VariableName, number>): boolean => {
  for (const [name, value] of a) if (!Object.is(b.get(name), value) && !isMachines(name)) return false;
  return true;
};

/** True if two snapshots hold the same values (NaN equals NaN). */
export const sameVariables = (a: ReadonlyMap<VariableName, number>, b: ReadonlyMap<VariableName, number>): boolean => {
  if (a === b) return true;
  if (a.size !== b.size) return false;
  for (const [name, value] of a) if (!Object.is(b.get(name), value)) return false;
  return true;
};
