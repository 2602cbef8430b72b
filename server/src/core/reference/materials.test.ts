import { expect, test } from 'vitest';
import { materialGroup } from './materials.ts';
import { tapTorqueLimit } from './tapTorqueLimits.ts';

test.each([
  ['aluminium', 'aluminium'],
  ['AlMgSi1', 'aluminium'],
  ['6082', 'aluminium'],
  ['AlSi9 casting', 'cast aluminium'],
  ['C45', 'steel'],
  ['S235', 'steel'],
  ['mild steel', 'steel'],
  ['42CrMo4', 'alloyed steel'],
  ['Stainless 304', 'stainless steel'],
  ['X5CrNi18-10', 'stainless steel'],
  ['1.4301', 'stainless steel'],
  ['grey cast iron', 'cast iron'],
  ['Titanium grade 5', 'titanium'],
  ['Brass', 'brass'],
  ['POM', 'plastic'],
])('%s is %s', (name, group) => {
  expect(materialGroup(name)?.name).toBe(group);
});

test('a name that says nothing is no group', () => {
  expect(materialGroup('our usual one')).toBeUndefined();
  expect(materialGroup('')).toBeUndefined();
});

test('limits of torque rise with the tap, straight between the rows, and end with the table', () => {
  expect(tapTorqueLimit(6)).toBe(4);
  expect(tapTorqueLimit(7)).toBe(6);
  expect(tapTorqueLimit(2)).toBe(0.2);
  expect(tapTorqueLimit(1.6)).toBeUndefined();
  expect(tapTorqueLimit(36)).toBeUndefined();
});
