// Which value stands in a field, and which fields count.
import { expect, it } from 'vitest';
import type { FormField } from '../../server/src/core/features/blockForm.ts';
import { counts, FormValues, fullLabel } from './values.ts';

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

it('says what is taken where a field is empty, and only there', () => {
  const values = new FormValues({});
  const drill = field('drill.diameter');
  const taken = { 'drill.diameter': { value: '4.2', from: 'from the thread M5' } };
  values.know({ given: {}, kept: {}, taken, notes: { 'drill.diameter': 'a note' } });
  expect(values.taken(drill)).toBe('4.2');
  expect(values.source(drill)).toBe('from the thread M5 · a note');
  values.type('drill.diameter', '4.3');
  expect(values.taken(drill)).toBeUndefined();
  expect(values.source(drill)).toBe('a note');
});

it('leaves out what every operation has itself, unless the block has a value for it', () => {
  const shared = field('speed', { isShared: true });
  const seen = (values: FormValues) => counts(shared, [shared], values);
  const values = new FormValues({});
  values.know({ given: { speed: { value: '600', from: 'program' } }, kept: {} });
  expect(seen(values)).toBe(false);
  values.know({ given: {}, kept: { speed: '600' } });
  expect(seen(values)).toBe(true);
  // Emptied just now, it does not vanish under the user's hands.
  values.type('speed', '');
  expect(seen(values)).toBe(true);
});

it('names the group of a field where another one is called the same', () => {
  const fields = [
    field('spot.tool-number', { label: 'Tool number', group: 'Spot drill' }),
    field('tap.tool-number', { label: 'Tool number', group: 'Tap' }),
    field('tap.depth', { label: 'Full thread', group: 'Tap' }),
  ];
  expect(fields.map((one) => fullLabel(one, fields))).toEqual([
    'Spot drill: tool number',
    'Tap: tool number',
    'Full thread',
  ]);
});
