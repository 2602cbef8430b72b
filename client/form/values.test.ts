// Which value stands in a field, and which fields count.
import { expect, it } from 'vitest';
import type { FormField } from '../../server/src/core/features/blockForm.ts';
import { counts, FormValues } from './values.ts';

const field = (name: string, more: Partial<FormField> = {}): FormField => ({
  name,
  label: name,
  help: '',
  group: 'How',
  kind: 'number',
  unit: 'mm',
  isNeeded: false,
  ...more,
});

it('shows what was typed before that of last time, before what the program gives, before the usual one', () => {
  const values = new FormValues({});
  const tool = field('tool', { fallback: '1' });
  expect(values.shown(tool)).toEqual({ value: '1', origin: 'usual' });
  values.know({ given: { tool: { value: '10', from: 'tool table' } }, kept: {} });
  expect(values.shown(tool)).toEqual({ value: '10', origin: 'given' });
  expect(values.source(tool)).toBe('from the tool table');
  values.know({ given: {}, kept: { tool: '8' } });
  expect(values.source(tool)).toBe('as last time');
  values.type('tool', '6');
  expect(values.shown(tool)).toEqual({ value: '6', origin: 'typed' });
  expect(values.source(tool)).toBe('');
  expect(values.typed).toEqual({ tool: '6' });
});

it('gives up the value of last time where the field is emptied, not what the program gives', () => {
  const values = new FormValues({});
  const tool = field('tool');
  values.know({ given: {}, kept: { tool: '8' } });
  values.type('tool', ' ');
  expect(values.shown(tool)).toEqual({ value: '', origin: 'none' });
  values.know({ given: { tool: { value: '10', from: 'program' } }, kept: {} });
  expect(values.shown(tool).value).toBe('10');
});

it('calls the values of a revised block its own', () => {
  const values = new FormValues({}, true);
  values.know({ given: {}, kept: { depth: '5' } });
  expect(values.shown(field('depth'))).toEqual({ value: '5', origin: 'own' });
  expect(values.source(field('depth'))).toBe('');
});

it('counts fields of chosen operations and of chosen words only', () => {
  const choices = ['drill', 'tap'].map((value) => ({ value, label: value }));
  const fields = [
    field('operations', { kind: 'choices', choices, fallback: 'drill' }),
    field('drill.depth'),
    field('tap.holder', { kind: 'choice', fallback: 'float' }),
    field('tap.ratio', { onlyWith: { name: 'holder', values: ['reversing'] } }),
    field('tool-number'),
  ];
  const values = new FormValues({});
  const seen = () => fields.filter((one) => counts(one, fields, values)).map(({ name }) => name);
  expect(seen()).toEqual(['operations', 'drill.depth', 'tool-number']);
  values.type('operations', 'tap');
  expect(seen()).toEqual(['operations', 'tap.holder', 'tool-number']);
  values.type('tap.holder', 'reversing');
  expect(seen()).toEqual(['operations', 'tap.holder', 'tap.ratio', 'tool-number']);
  values.type('operations', ',');
  expect(seen()).toEqual(['operations', 'tool-number']);
});
