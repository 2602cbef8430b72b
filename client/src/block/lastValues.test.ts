// What is kept for the next time.
import { expect, it } from 'vitest';
import type { FormField } from '../../../server/src/core/features/blockForm.ts';
import { keepValues, lastValues, type Store } from './lastValues.ts';

const store = (): Store => {
  const kept = new Map<string, unknown>();
  return { get: (key) => kept.get(key), update: async (key, value) => void kept.set(key, value) };
};

const field = (name: string, kind: FormField['kind'] = 'number'): FormField => ({
  name,
  kind,
  label: name,
  help: '',
  group: 'How',
  unit: '',
  isNeeded: false,
});

it('keeps what the user typed, a block each', async () => {
  const kept = store();
  const form = { name: 'helical-bore', fields: [field('bore'), field('tool'), field('depth')] };
  await keepValues(kept, form, { bore: '25', tool: '12', depth: '8' }, new Set(['bore', 'depth', 'gone']));
  expect(lastValues(kept, 'helical-bore')).toEqual({ bore: '25', depth: '8' });
  expect(lastValues(kept, 'holes')).toEqual({});
});

it('keeps no places and no tool numbers: they are another part’s next time', async () => {
  const kept = store();
  const form = { name: 'holes', fields: [field('at', 'points'), field('tool-number'), field('tap.tool-number')] };
  await keepValues(kept, form, { at: '1,2', 'tool-number': '3' }, new Set(['at', 'tool-number', 'tap.tool-number']));
  expect(lastValues(kept, 'holes')).toEqual({});
});

it('reads nothing that it did not write', () => {
  const kept = { get: () => ({ bore: 25, depth: '8' }), update: async () => undefined };
  expect(lastValues(kept, 'helical-bore')).toEqual({ depth: '8' });
  expect(lastValues({ ...kept, get: () => 'words' }, 'helical-bore')).toEqual({});
});
