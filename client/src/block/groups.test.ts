// Room for the form below all groups of editors.
import { expect, it } from 'vitest';
import { groupCount, withForm } from './groups.ts';

it('puts path and form about a program that is alone', () => {
  const layout = withForm({ orientation: 0, groups: [{}] }, true);
  expect(layout).toMatchObject({ orientation: 1, groups: [{ groups: [{}, {}] }, {}] });
  expect(groupCount(layout)).toBe(3);
});

it('leaves groups beside each other as they are, with the form below them', () => {
  const layout = withForm({ orientation: 0, groups: [{ size: 300 }, { size: 500 }] }, false);
  expect(layout).toMatchObject({ orientation: 1, groups: [{ groups: [{ size: 300 }, { size: 500 }] }, {}] });
  expect(groupCount(withForm({ orientation: 0, groups: [{ size: 300 }, { size: 500 }] }, true))).toBe(4);
});

it('keeps groups below each other below each other', () => {
  const rows = { orientation: 1, groups: [{ size: 200 }, { groups: [{}, {}] }] };
  const layout = withForm(rows, true);
  expect(layout).toMatchObject({ orientation: 1, groups: [{ groups: [{ groups: rows.groups }, {}] }, {}] });
  expect(groupCount(layout)).toBe(5);
});

it('puts the form below a program alone where no path is to be shown', () => {
  expect(withForm({ orientation: 0, groups: [{}] }, false)).toMatchObject({ orientation: 1, groups: [{}, {}] });
});
