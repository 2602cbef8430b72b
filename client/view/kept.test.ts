import { describe, expect, it } from 'vitest';
import { Kept } from './kept.ts';

function storeWith(state: unknown) {
  const store = { state, getState: () => store.state, setState: (next: unknown) => void (store.state = next) };
  return store;
}

describe('Kept', () => {
  it('writes a part and leaves the others', () => {
    const store = storeWith({ camera: 1, follows: false });
    const kept = new Kept(store);
    kept.write({ camera: 2, program: 'file:///a.nc' });
    expect(store.state).toEqual({ camera: 2, follows: false, program: 'file:///a.nc' });
    expect(kept.read('follows')).toBe(false);
    expect(new Kept(store).read('camera')).toBe(2);
  });

  it('begins with nothing where the state is none', () => {
    for (const state of [undefined, null, 'text', 7]) {
      const store = storeWith(state);
      const kept = new Kept(store);
      expect(kept.read('camera')).toBeUndefined();
      kept.write({ follows: true });
      expect(store.state).toEqual({ follows: true });
    }
  });

  it('never changes an object that it has handed to the store', () => {
    const store = storeWith(undefined);
    const kept = new Kept(store);
    kept.write({ camera: 1 });
    const first = store.state;
    kept.write({ camera: 2 });
    expect(first).toEqual({ camera: 1 });
  });
});
