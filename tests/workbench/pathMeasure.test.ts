// Measuring on the path in the real workbench: known distances far from the work zero come out right to 0.001 mm, by
// pointer and by keys alone; the views are turned by keys and keep what is looked at.
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Frame } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type PartPoint, project } from './pathView.ts';
import { Workbench } from './workbench.ts';

/** Ends of a slanting line, a half circle of radius 17.25 behind it, and a line 5.125 beside the last one. */
const start: PartPoint = [2013.807, 1007.019, -1.25];
const end: PartPoint = [2086.194, 1061.43, -1.25];
const radius = 17.25;
const program = `%
O1
G17 G21 G40 G49 G80 G90 G54
T1 M6 (END MILL D10)
S3000 M3
G0 X${start[0]} Y${start[1]}
G43 H1 Z5.
G1 Z${start[2]} F200.
X${end[0]} Y${end[1]} F400.
G3 Y${end[1] + 2 * radius} J${radius}
G1 X${start[0]}
G0 Z5.
Y${end[1] + 2 * radius + 5.125}
G1 Z${start[2]} F200.
X${end[0]} F400.
G0 Z50.
M30
%
`;

describe('a machinist measures on the path', () => {
  let folder: string;
  let workbench: Workbench;
  let view: Frame;

  const result = async (): Promise<string> =>
    (await view.locator('.measure .result span').allTextContents()).join('\n');
  /** The number behind a word of the result. */
  const measured = async (word: string): Promise<number> => {
    const found = new RegExp(`(?:^|\\s)${word} (−?[\\d.]+)`).exec(await result());
    return Number(found?.[1]?.replace('−', '-'));
  };
  const clickAt = async (point: PartPoint): Promise<void> => {
    const { x, y } = await project(view, point);
    // A little beside it: the pointer is drawn to the point.
    await workbench.page.mouse.move(x + 3, y - 2);
    await drawn();
    await workbench.page.mouse.click(x + 3, y - 2);
  };
  /** Once what was asked is on the screen, and can be read there. */
  const drawn = (): Promise<unknown> =>
    view.evaluate('new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))');
  const choose = (label: string): Promise<void> =>
    view.locator('.measure').getByRole('button', { name: label, exact: true }).click();

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'blockwright-measure-'));
    await writeFile(join(folder, 'known.nc'), program);
    workbench = await Workbench.open(folder);
    await workbench.openFile('known.nc');
    view = await workbench.openPath();
    await view.locator('.extents', { hasText: 'Z −1.250' }).waitFor();
  });

  afterAll(async () => {
    await workbench?.close();
    await rm(folder, { recursive: true, force: true });
  });

  it('between two points, to 0.001', async () => {
    await view.getByRole('button', { name: 'Measure', exact: true }).click();
    await clickAt(start);
    await clickAt(end);
    await expect.poll(result).toContain('from X+');
    expect(await measured('dX')).toBeCloseTo(end[0] - start[0], 3);
    expect(await measured('dY')).toBeCloseTo(end[1] - start[1], 3);
    expect(await measured('in XY')).toBeCloseTo(Math.hypot(end[0] - start[0], end[1] - start[1]), 3);
    expect(await measured('mm,')).toBeCloseTo((Math.atan2(end[1] - start[1], end[0] - start[0]) * 180) / Math.PI, 3);
    await workbench.screenshot('path-measure-points');
  });

  it('a move: length, radius and centre of an arc', async () => {
    await choose('Move');
    await clickAt([end[0] + radius, end[1] + radius, end[2]]);
    await expect.poll(result).toContain('arc');
    expect(await measured('length')).toBeCloseTo(Math.PI * radius, 3);
    expect(await measured('radius')).toBe(radius);
    expect(await measured('centre X')).toBe(end[0]);
    expect(await result()).toContain('180.000° counter-clockwise');
  });

  it('the distance between two moves', async () => {
    await choose('Two moves');
    const middle = (start[0] + end[0]) / 2;
    await clickAt([middle, end[1] + 2 * radius, end[2]]);
    await expect.poll(() => view.locator('.measure .help').textContent()).toContain('second');
    await clickAt([middle, end[1] + 2 * radius + 5.125, end[2]]);
    await expect.poll(result).toContain('distance');
    expect(await measured('distance')).toBe(5.125);
    await workbench.screenshot('path-measure-moves');
  });

  it('and copies what it measured', async () => {
    await workbench.page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
    await choose('Copy');
    const copied = (): Promise<string> => view.evaluate('navigator.clipboard.readText()');
    await expect.poll(copied).toBe(await result());
    expect(await result()).toContain('distance 5.125 mm');
  });

  it('by keys alone, from end to end of the path', async () => {
    await choose('Two points');
    const picture = view.locator('canvas.picture');
    const at = async (): Promise<string> => (await view.locator('.pointer').textContent()) ?? '';
    const walkTo = async (x: number): Promise<void> => {
      do {
        await picture.press('n');
        await drawn();
      } while (!(await at()).includes(`X ${x}`));
      await picture.press('Enter');
      await drawn();
    };
    await walkTo(start[0]);
    await walkTo(end[0]);
    await expect.poll(result).toContain('from X+');
    expect(await measured('in XY')).toBeCloseTo(Math.hypot(end[0] - start[0], end[1] - start[1]), 3);
    await picture.press('Escape');
    await expect.poll(result).toBe('');
    await picture.press('Escape');
    await expect.poll(() => view.locator('.measure').isVisible()).toBe(false);
    await expect.poll(at).toBe('');
  });

  it('turns to every view by keys, and keeps what is looked at in the middle', async () => {
    const picture = view.locator('canvas.picture');
    await picture.press('1');
    const { x, y } = await project(view, end);
    await workbench.page.mouse.move(x, y);
    const length = async (): Promise<number> => {
      const [from, to] = [await project(view, start), await project(view, end)];
      return Math.hypot(to.x - from.x, to.y - from.y);
    };
    const before = await length();
    // Each turn of the wheel is waited for: one that is late would move the next view.
    for (let turn = 1; turn <= 6; turn++) {
      await workbench.page.mouse.wheel(0, -120);
      await expect.poll(length).toBeGreaterThan(before * 1.2 ** turn);
    }
    const box = await picture.boundingBox();
    const isSeen = async (): Promise<boolean> => {
      const place = await project(view, end);
      return (
        place.x > (box?.x ?? 0) &&
        place.x < (box?.x ?? 0) + (box?.width ?? 0) &&
        place.y > (box?.y ?? 0) &&
        place.y < (box?.y ?? 0) + (box?.height ?? 0)
      );
    };
    for (const [key, name] of [
      ['2', 'Front ZX'],
      ['3', 'Side YZ'],
      ['4', 'Space'],
    ] as const) {
      await picture.press(key);
      await view.getByRole('button', { name, pressed: true }).waitFor();
      expect(await isSeen()).toBe(true);
    }
    await picture.press('p');
    await view.getByRole('button', { name: 'Perspective', pressed: true }).waitFor();
    expect(await isSeen()).toBe(true);
    await workbench.screenshot('path-measure-perspective');
    await view.getByLabel('Direction to look from').selectOption({ label: 'from above' });
    expect(await isSeen()).toBe(true);
    await picture.press('f');
    await workbench.screenshot('path-measure-above');
  });

  it('no console said an error', () => {
    expect(workbench.errors).toEqual([]);
  });
});
