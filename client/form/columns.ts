// Groups of fields in columns. A group keeps its column while the form is open: nothing jumps under the user's hands.

/** A group that is seen, with its height in lines, roughly, heading included. */
export interface SeenGroup {
  readonly name: string;
  readonly lines: number;
}

/** Shares groups out in order, whole, so that the highest column is as low as can be. */
export function shareOut(groups: readonly SeenGroup[], count: number): string[][] {
  const heights = groups.map(({ lines }) => lines);
  let least = Math.max(0, ...heights);
  while (columnsUnder(heights, least) > count) least++;
  const columns: string[][] = [[]];
  let height = 0;
  for (const { name, lines } of groups) {
    if (height > 0 && height + lines > least) {
      columns.push([]);
      height = 0;
    }
    columns[columns.length - 1].push(name);
    height += lines;
  }
  return columns;
}

/** How many columns there are if none is higher than `most`. */
function columnsUnder(heights: readonly number[], most: number): number {
  let columns = 1;
  let height = 0;
  for (const lines of heights) {
    if (height > 0 && height + lines > most) {
      columns++;
      height = 0;
    }
    height += lines;
  }
  return columns;
}

/** Where each group stands. */
export class Columns {
  readonly #order: readonly string[];
  #count = 0;
  #columns: string[][] = [];

  /** `order` are all groups as they follow each other. */
  constructor(order: readonly string[]) {
    this.#order = order;
  }

  /**
   * The columns for the groups that are seen now. With as many columns as before every group that has had a place stays in
   * it, seen or not; a new one goes below the others of the lowest column, and in a single column where its order puts it.
   */
  place(seen: readonly SeenGroup[], count: number): readonly (readonly string[])[] {
    if (count !== this.#count) {
      this.#count = count;
      this.#columns = shareOut(seen, count);
      return this.#columns;
    }
    const placed = new Set(this.#columns.flat());
    for (const { name } of seen.filter((group) => !placed.has(group.name))) {
      if (count === 1) {
        this.#columns[0].push(name);
        this.#columns[0].sort((a, b) => this.#order.indexOf(a) - this.#order.indexOf(b));
      } else {
        this.#lowest(seen).push(name);
      }
    }
    return this.#columns;
  }

  #lowest(seen: readonly SeenGroup[]): string[] {
    while (this.#columns.length < this.#count) this.#columns.push([]);
    const height = (column: readonly string[]): number =>
      seen.reduce((sum, { name, lines }) => sum + (column.includes(name) ? lines : 0), 0);
    return this.#columns.reduce((low, column) => (height(column) < height(low) ? column : low));
  }
}
