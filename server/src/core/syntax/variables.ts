/** The variables of a program: numbered (#101) and named (#<depth>). */

/** A variable's name: its number, or its name in lower case without spaces. */
export type VariableName = number | string;

/** Variables with cheap snapshots: copied only when something is assigned after a snapshot was taken. */
export class Variables {
  private values: Map<VariableName, number>;
  private shared: boolean;

  constructor(values: Map<VariableName, number> = new Map()) {
    this.values = values;
    this.shared = true;
  }

  /** The value; undefined if it was never set; NaN if it is set but not known. */
  get(name: VariableName): number | undefined {
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

  /** Takes over a snapshot. */
  restore(values: ReadonlyMap<VariableName, number>): void {
    this.values = values as Map<VariableName, number>;
    this.shared = true;
  }
}

/** True if two snapshots hold the same values (NaN equals NaN). */
export const sameVariables = (a: ReadonlyMap<VariableName, number>, b: ReadonlyMap<VariableName, number>): boolean => {
  if (a === b) return true;
  if (a.size !== b.size) return false;
  for (const [name, value] of a) if (!Object.is(b.get(name), value)) return false;
  return true;
};
