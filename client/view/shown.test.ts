import { describe, expect, it } from 'vitest';
import { PathStyle } from '../../server/src/core/geometry/packedLayout.ts';
import { Kept } from './kept.ts';
import { kindBits, readShown, ShownChoice } from './shown.ts';

/** A place where a webview keeps its state. */
const store = (state?: unknown) => {
  let kept = state;
  return { getState: () => kept, setState: (next: unknown) => (kept = next) };
};

describe('what is shown', () => {
  it('is everything where nothing sensible was kept', () => {
    const all = readShown(undefined);
    expect(all).toMatchObject({ colouredBy: 'kind', hiddenKinds: [], hiddenExtras: [], hiddenSections: [] });
    for (const wrong of [null, 7, { colouredBy: 'taste', hiddenKinds: 'rapid', hiddenSections: ['T1 1'] }]) {
      expect(readShown(wrong)).toEqual(all);
    }
    expect(readShown({ hiddenKinds: [PathStyle.rapid, 99], hiddenExtras: ['cutter', 'x'] })).toMatchObject({
      hiddenKinds: [PathStyle.rapid],
      hiddenExtras: ['cutter'],
    });
  });

  it('comes back after the window was loaded again', () => {
    const place = store();
    const choice = new ShownChoice(new Kept(place), () => {});
    choice.begin('a.nc');
    choice.colourBy('feed');
    choice.showKind(PathStyle.rapid, false);
    choice.showSection('T2 1', false);
    choice.showExtra('findings', false);
    const again = new ShownChoice(new Kept(place), () => {});
    again.begin('a.nc');
    expect(again.now).toEqual(choice.now);
    expect(again.shows('findings')).toBe(false);
    expect(kindBits(again.now) & (1 << PathStyle.rapid)).toBe(0);
    expect(kindBits(again.now) & (1 << PathStyle.arc)).not.toBe(0);
  });

  it('forgets the tools of another program, and nothing else', () => {
    const choice = new ShownChoice(new Kept(store()), () => {});
    choice.begin('a.nc');
    choice.showSection('T2 1', false);
    choice.showKind(PathStyle.rapid, false);
    choice.begin('b.nc');
    expect(choice.now).toMatchObject({ hiddenSections: [], hiddenKinds: [PathStyle.rapid] });
    choice.showAll();
    expect(choice.now).toMatchObject({ hiddenKinds: [], sectionsOf: 'b.nc' });
  });

  it('goes through the colours and comes round', () => {
    let changes = 0;
    const choice = new ShownChoice(new Kept(store()), () => changes++);
    const seen = Array.from({ length: 6 }, () => {
      choice.colourByNext();
      return choice.now.colouredBy;
    });
    expect(seen).toEqual(['tool', 'feed', 'depth', 'speed', 'time', 'kind']);
    expect(changes).toBe(6);
  });
});
