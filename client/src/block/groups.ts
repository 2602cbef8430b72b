// The editor's groups as `vscode.getEditorLayout` tells them, with room for the form below all of them.

/** A group, or groups beside each other in the other direction than the groups around them. */
export interface Group {
  readonly size?: number;
  readonly groups?: readonly Group[];
}

/** All groups; orientation 0: beside each other, 1: below each other. */
export interface Layout extends Group {
  readonly orientation?: number;
}

/** The part of the height that the form takes: its fields in three columns on a small screen, and the path above it. */
const FORM_PART = 0.53;
/** The part of the width that a program alone leaves to the path beside it. */
const PATH_PART = 0.55;

/** How many groups hold editors. */
export function groupCount({ groups = [] }: Group): number {
  return groups.length === 0 ? 1 : groups.reduce((sum, group) => sum + groupCount(group), 0);
}

/** The same groups with a new one below all of them, and another new one to their right where `withPath` says so. */
export function withForm(layout: Layout, withPath: boolean): Layout {
  const columns = columnsOf(layout);
  const upper = withPath ? withColumn(columns) : columns;
  const [only] = upper;
  const above = upper.length === 1 ? { ...only, size: 1 - FORM_PART } : { size: 1 - FORM_PART, groups: upper };
  return { orientation: 1, groups: [above, { size: FORM_PART }] };
}

/** What stands beside each other at the top. */
const columnsOf = ({ orientation = 0, groups = [] }: Layout): readonly Group[] => {
  if (groups.length < 2) {
    return [{}];
  }
  return orientation === 0 ? groups : [{ groups }];
};

const withColumn = (columns: readonly Group[]): readonly Group[] =>
  columns.length === 1
    ? [{ ...columns[0], size: 1 - PATH_PART }, { size: PATH_PART }]
    : [...columns.map(({ groups }) => (groups ? { groups } : {})), {}];
