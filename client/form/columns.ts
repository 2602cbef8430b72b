// Fields side by side in columns that stay as they are while mistakes come and go: nothing jumps under the user's hands.

/** A field's part of a column. */
export interface ColumnItem {
  readonly group: string;
  /** Height in lines, roughly. */
  readonly lines: number;
}

/** Fields of one group that stand together in a column; `isFirst`: the group's heading stands over them. */
export interface ColumnPart<Item extends ColumnItem> {
  readonly group: string;
  readonly isFirst: boolean;
  readonly items: readonly Item[];
}

/** Shares items out in order, so that columns are about equally high. A group may go on in the next column. */
export function inColumns<Item extends ColumnItem>(items: readonly Item[], count: number): ColumnPart<Item>[][] {
  const headings = new Set(items.map(({ group }) => group)).size;
  const target = (items.reduce((sum, { lines }) => sum + lines, 0) + headings) / count;
  const columns: { group: string; isFirst: boolean; items: Item[] }[][] = [[]];
  const seen = new Set<string>();
  let height = 0;
  for (const item of items) {
    const isFirst = !seen.has(item.group);
    const needed = item.lines + (isFirst ? 1 : 0);
    const isFull = columns.length < count && height + needed / 2 > target * columns.length;
    if (isFull) {
      columns.push([]);
    }
    const column = columns[columns.length - 1]!;
    const last = column[column.length - 1];
    if (last?.group === item.group) {
      last.items.push(item);
    } else {
      column.push({ group: item.group, isFirst, items: [item] });
    }
    seen.add(item.group);
    height += needed;
  }
  return columns;
}
