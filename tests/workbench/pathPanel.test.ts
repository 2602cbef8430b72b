// The path panel in the real workbench: follows edits, programs and the cursor, and comes back after it was hidden.
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Frame } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawsByWebGl } from './pathView.ts';
import { Workbench } from './workbench.ts';

/** What the view offers to tests in its window. */
interface ViewGlobals {
  readonly blockwrightTest: {
    project(point: readonly number[]): { x: number; y: number };
    pixel(x: number, y: number): number[];
  };
}

const head = 'G17 G21 G40 G49 G80 G90\nG54\nT1 M6\nS3000 M3\nG0 X0. Y0.\nZ5.\n';
const programs = {
  'frame.nc': `${head}G1 Z-1. F100.\nX60. F300.\nY30.\nX0.\n`,
  'inch.nc': `${head.replace('G21', 'G20').replace('Z5.', 'Z.2')}G1 Z-.1 F5.\nX1. F10.\n`,
  'notes.txt': 'beside the program\n',
  'nothing.nc': '(NOTHING MOVES HERE)\n',
};

describe('the path panel', () => {
  let folder: string;
  let workbench: Workbench;
  let view: Frame;

  const text = (selector: string): Promise<string | null> => view.locator(selector).textContent();

  /** Where a point is seen, CSS pixels of the view. */
  const seen = (point: readonly number[]): Promise<{ x: number; y: number }> =>
    view.evaluate((given) => (globalThis as unknown as ViewGlobals).blockwrightTest.project(given), point);

  /** True if something dark or strongly coloured is drawn within two pixels of a point of the work (on a light theme). */
  const drawnAt = (point: readonly number[]): Promise<boolean> =>
    view.evaluate((given) => {
      const { pixel, project } = (globalThis as unknown as ViewGlobals).blockwrightTest;
      const { x, y } = project(given);
      const strong = (dx: number, dy: number): boolean => Math.min(...pixel(x + dx, y + dy)) < 150;
      return [-2, -1, 0, 1, 2].some((dx) => [-2, -1, 0, 1, 2].some((dy) => strong(dx, dy)));
    }, point);

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'blockwright-panel-'));
    for (const [name, content] of Object.entries(programs)) await writeFile(join(folder, name), content);
    workbench = await Workbench.open(folder);
    await workbench.openFile('frame.nc');
    view = await workbench.openPath();
  });

  afterAll(async () => {
    await workbench?.close();
    await rm(folder, { recursive: true, force: true });
  });

  it('draws the path to scale and says how far the cuts reach', async () => {
    expect(await drawsByWebGl(view)).toBe(true);
    await expect.poll(() => text('.extents')).toContain('X 0.000 to 60.000 = 60.000');
    expect(await text('.extents')).toContain('Z −1.000 to 5.000 = 6.000');
    expect(await drawnAt([30, 0, -1])).toBe(true);
    expect(await drawnAt([60, 15, -1])).toBe(true);
    expect(await drawnAt([30, 20, -1])).toBe(false);
    const [left, right] = [await seen([0, 0, 0]), await seen([60, 0, 0])];
    const [low, high] = [await seen([0, 0, 0]), await seen([0, 30, 0])];
    expect((right.x - left.x) / (low.y - high.y)).toBeCloseTo(2, 6);
  });

  it('follows what is typed', async () => {
    expect(await drawnAt([0, 15, -1])).toBe(false);
    await workbench.goTo(10, 1);
    await workbench.page.keyboard.press('End');
    await workbench.page.keyboard.type('\nY0. ', { delay: 30 });
    await expect.poll(() => drawnAt([0, 15, -1]), { timeout: 10_000 }).toBe(true);
  });

  it('shows the other views to scale', async () => {
    await view.getByRole('button', { name: 'Front ZX' }).click();
    await expect.poll(() => drawnAt([30, 15, -1])).toBe(true);
    const [zero, up] = [await seen([0, 0, 0]), await seen([0, 0, 5])];
    expect(up.x).toBeCloseTo(zero.x, 6);
    expect(up.y).toBeLessThan(zero.y);
    await view.getByRole('button', { name: 'Side YZ' }).click();
    const [near, far] = [await seen([0, 0, 0]), await seen([0, 10, 0])];
    expect(far.x).toBeGreaterThan(near.x);
    await view.getByRole('button', { name: 'Space', exact: true }).click();
    await expect
      .poll(() => view.getByRole('button', { name: 'Space', exact: true }).getAttribute('aria-pressed'))
      .toBe('true');
    await expect.poll(() => drawnAt([30, 0, -1])).toBe(true);
    await workbench.screenshot('path-panel-space');
  });

  it('moves by keys alone', async () => {
    const before = await seen([0, 0, 0]);
    await view.locator('canvas').first().focus();
    await workbench.page.keyboard.press('ArrowRight');
    await workbench.page.keyboard.press('+');
    await expect.poll(async () => (await seen([0, 0, 0])).x).not.toBeCloseTo(before.x, 3);
  });

  it('is the same again after it was hidden', async () => {
    const before = await seen([60, 30, 0]);
    // The panel has the keyboard: the file opens in its column and hides it.
    await workbench.openFile('notes.txt');
    await workbench.page.locator('iframe.webview.ready').first().waitFor({ state: 'hidden' });
    await workbench.page.locator('.tab.active[data-resource-name="notes.txt"] .codicon-close').click();
    // The panel takes the keyboard when it is there again; only then is it given back to the program.
    await workbench.page.locator('iframe.webview.ready').first().waitFor({ state: 'visible' });
    await workbench.page.waitForFunction("document.activeElement?.matches('iframe.webview')");
    await workbench.page.locator('.editor-instance .view-lines').first().click();
    view = await workbench.openPath();
    await expect.poll(() => drawnAt([30, 0, -1]), { timeout: 20_000 }).toBe(true);
    const after = await seen([60, 30, 0]);
    expect(after.x).toBeCloseTo(before.x, 3);
    expect(after.y).toBeCloseTo(before.y, 3);
  });

  it('goes along to another program, in its unit', async () => {
    await workbench.openFile('inch.nc');
    await expect.poll(() => text('.extents'), { timeout: 10_000 }).toContain('X 0.0000 to 1.0000 = 1.0000');
    expect(await text('.extents')).toContain('Cut, in:');
  });

  it('says so where nothing moves', async () => {
    await workbench.openFile('nothing.nc');
    await expect.poll(() => text('.notice'), { timeout: 10_000 }).toContain('No moves to show');
  });

  it('no console said an error', () => {
    expect(workbench.errors).toEqual([]);
  });
});
