// Messages of the form are looked at before they are believed.
import { expect, it } from 'vitest';
import { type FromForm, isToForm, readFromForm } from './messages.ts';

it('reads what it says itself', () => {
  const said: FromForm[] = [
    { type: 'ready' },
    { type: 'close' },
    { type: 'insert', overEdited: true },
    { type: 'values', asked: 3, values: { bore: '25', at: '' } },
  ];
  expect(said.map(readFromForm)).toEqual(said);
});

it('reads nothing else', () => {
  const others = [
    undefined,
    'ready',
    {},
    { type: 'write' },
    { type: 'insert' },
    { type: 'values', asked: '3', values: {} },
    { type: 'values', asked: 3, values: { bore: 25 } },
    { type: 'values', asked: 3, values: ['25'] },
  ];
  expect(others.map(readFromForm)).toEqual(others.map(() => undefined));
  expect([isToForm({ type: 'trouble', text: '' }), isToForm({ type: 'ready' }), isToForm(null)]).toEqual([
    true,
    false,
    false,
  ]);
});
