// The command takes what it is called with, and nothing that is not as it should be.
import { expect, it } from 'vitest';
import { readCall } from './call.ts';

it('reads a whole call', () => {
  const call = {
    uri: 'file:///a.nc',
    name: 'helical-bore',
    values: { bore: '25' },
    line: 3,
    replaces: { firstLine: 3, lastLine: 20 },
    edited: true,
  };
  expect(readCall(call)).toEqual(call);
  expect(readCall({ name: 'holes' })).toEqual({ name: 'holes' });
});

it('leaves out what cannot be', () => {
  expect(
    readCall({
      uri: 1,
      name: null,
      values: { bore: 25 },
      line: -1,
      replaces: { firstLine: 5, lastLine: 3 },
      edited: 'yes',
    }),
  ).toEqual({});
  // A menu hands in an address, a key nothing at all.
  expect([readCall({ scheme: 'file', path: '/a.nc' }), readCall(undefined), readCall('holes')]).toEqual([{}, {}, {}]);
});
