import { describe, expect, it } from 'vitest';
import { cornersOf, type Point, project } from './camera.ts';
import { CameraKeeper } from './cameraKeeper.ts';
import { Kept } from './kept.ts';

const size = { width: 800, height: 600 };
const bounds = [0, 0, -40, 120, 80, 10];

function keeperWith(state: unknown = undefined, depth = 0) {
  const store = { state, getState: () => store.state, setState: (next: unknown) => (store.state = next) };
  const keeper = new CameraKeeper(new Kept(store), {
    size: () => size,
    covered: () => ({ top: 30, left: 48, bottom: 20 }),
    bounds: () => bounds,
    depth: () => depth,
    changed: () => {},
  });
  keeper.begin('a.nc');
  return { keeper, store };
}

const isSeen = (keeper: CameraKeeper, point: Point): boolean => {
  const { x, y } = project(keeper.camera, size, point);
  return x >= 0 && y >= 0 && x <= size.width && y <= size.height;
};

describe('the camera of a program', () => {
  it('keeps everything in the picture in every view until it is moved by hand', () => {
    const { keeper } = keeperWith();
    for (const view of ['top', 'front', 'side', 'space'] as const) {
      keeper.turnTo({ view, lens: 'perspective' });
      expect(cornersOf(bounds).every((corner) => isSeen(keeper, corner))).toBe(true);
      expect(keeper.holdsAll()).toBe(true);
    }
    expect(keeper.follows).toBe(true);
  });

  it('keeps what is looked at in the middle and as large, whatever view comes next', () => {
    // A hole at X30 Y20, whose bottom at Z-35 lies 20 below the target of the view from above.
    const { keeper } = keeperWith(undefined, -20);
    keeper.look({ ...keeper.camera, target: [30, 20, -15], scale: 40 });
    keeper.turnTo({ view: 'front' });
    const { x, y } = project(keeper.camera, size, [30, 20, -35]);
    expect([x, y]).toEqual([400, 300]);
    expect(keeper.camera.scale).toBe(40);
    expect(keeper.follows).toBe(false);
  });

  it('turns to the same place with perspective and back, in the same size', () => {
    const { keeper } = keeperWith(undefined, 7);
    keeper.look({ ...keeper.camera, view: 'space', target: [30, 20, -15], scale: 40 });
    keeper.turnTo({ lens: 'perspective' });
    expect(keeper.camera.scale).toBeCloseTo(40, 9);
    expect(keeper.camera.lens).toBe('perspective');
  });

  it('fits some lines in and stays there, also after the window was loaded again', () => {
    const { keeper, store } = keeperWith();
    keeper.fitIn([10, 10, -5, 20, 14, 0]);
    expect(keeper.follows).toBe(false);
    expect(isSeen(keeper, [10, 10, 0]) && isSeen(keeper, [20, 14, -5])).toBe(true);
    const again = keeperWith(JSON.parse(JSON.stringify(store.state))).keeper;
    expect(again.camera).toEqual(keeper.camera);
    expect(again.follows).toBe(false);
    again.begin('b.nc');
    expect(again.follows).toBe(true);
  });

  it('stays where it is if the lines move nothing', () => {
    const { keeper } = keeperWith();
    const before = keeper.camera;
    keeper.fitIn([Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity]);
    expect(keeper.camera).toBe(before);
  });
});
