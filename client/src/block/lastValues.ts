// The values that were typed last, a block each, kept over sessions. In mm, so that they hold in any program.
import type { BlockForm } from '../../../server/src/core/features/blockForm.ts';

/** What keeps values over sessions. */
export interface Store {
  get(key: string): unknown;
  update(key: string, value: unknown): Thenable<void>;
}

const keyOf = (name: string): string => `blockwright.block.${name}`;

/** The values of last time; none where there was none. */
export function lastValues(store: Store, name: string): Record<string, string> {
  const kept = store.get(keyOf(name));
  if (typeof kept !== 'object' || kept === null) {
    return {};
  }
  return Object.fromEntries(
    Object.entries(kept).filter((entry): entry is [string, string] => typeof entry[1] === 'string'),
  );
}

/**
 * Keeps the values of a block that was written: those of `names`, in mm. Places and tool numbers are another part's next
 * time; what program and tool table gave is not the user's.
 */
export function keepValues(
  store: Store,
  { name, fields }: Pick<BlockForm, 'name' | 'fields'>,
  raw: Readonly<Record<string, string>>,
  names: ReadonlySet<string>,
): Thenable<void> {
  const lasting = fields.filter(
    (field) => names.has(field.name) && field.kind !== 'point' && field.kind !== 'points' && !isToolNumber(field.name),
  );
  const values = lasting.filter((field) => raw[field.name] !== undefined).map((field) => [field.name, raw[field.name]]);
  return store.update(keyOf(name), Object.fromEntries(values));
}

const isToolNumber = (name: string): boolean => /(?:^|\.)tool-number$/.test(name);
