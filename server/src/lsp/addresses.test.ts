import { describe, expect, test } from 'vitest';
import { isInside, placeOf, siblingAddress } from './addresses.ts';

describe('where a file lies', () => {
  test.each([
    ['file:///shop/parts/plate%20one.nc', 'file:///shop/parts', 'plate one.nc'],
    ['file:///C%3A/parts/a.nc', 'file:///c:/parts', 'a.nc'],
    ['file:///c:/parts/a.nc', 'file:///c:/parts', 'a.nc'],
    ['file://server/share/a.nc', 'file://server/share', 'a.nc'],
    ['far://mount/parts/a.nc?version=3', 'far://mount/parts', 'a.nc'],
    ['file:///shop/parts/../a.nc', 'file:///shop', 'a.nc'],
    ['file:///shop/%2e%2e/a.nc', 'file://', 'a.nc'],
  ])('%s', (address, folder, name) => {
    expect(placeOf(address)).toEqual({ folder, name });
  });

  test.each([
    'untitled:a.nc',
    'untitled:/parts/a.nc',
    'file:///shop/..%2fa.nc',
    'file:///shop/a%5Cb.nc',
    'a.nc',
    '',
    '%',
  ])('nowhere: %s', (address) => expect(placeOf(address)).toBeUndefined());
});

test('inside', () => {
  expect(isInside('file:///shop', 'file:///shop')).toBe(true);
  expect(isInside('file:///shop/parts', 'file:///shop')).toBe(true);
  expect(isInside('file:///shopping', 'file:///shop')).toBe(false);
  expect(isInside('file:///', 'file:///shop')).toBe(false);
});

test('a file beside another', () => {
  expect(siblingAddress('file:///C%3A/parts/a.nc', 'O 1#2.nc')).toBe('file:///C%3A/parts/O%201%232.nc');
  expect(siblingAddress('far:/parts/a.nc?b=/c', '1000')).toBe('far:/parts/1000');
});
