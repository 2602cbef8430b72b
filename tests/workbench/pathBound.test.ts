// Path and text bound both ways in the real workbench: lit lines, clicks to passes, following, several panels, a reload.
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Frame } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type PartPoint, project } from './pathView.ts';
import { Workbench } from './workbench.ts';

const head = 'G17 G21 G40 G49 G80 G90\nG54\nT1 M6\nS3000 M3\nG0 X0. Y0.\nZ5.\n';
const cutLine = 10;
const programs = {
  'loop.nc': `${head}#1=0\nWHILE [#1 LT 3] DO1\nG1 Z-[#1*10+10] F100.\nX60. F300.\nX0.\n#1=#1+1\nEND1\nG0 Z5.\n${'(REMARK)\n'.repeat(80)}M30\n`,
  'caller.nc': `O1\n${head}G1 Z-1. F100.\nM98 P500\nG0 Z5.\nM30\n`,
  'o500.nc': 'O500 (SIDE)\nG1 X25. F200.\n(REMARK)\nY35.\nM99\n',
  'slip.nc': `${head}G1 Z-1. F100.\nX40. F300.\nG2 X60. Y-20. I0. K-20.\nG1 Y-40.\nM30\n`,
  'frame.nc': `${head}G1 Z-1. F100.\nX40. F300.\nY30.\nX0.\nM30\n`,
};

interface ViewGlobals {
  readonly blockwrightTest: { pixel(x: number, y: number): number[]; project(point: readonly number[]): Place };
  lights: { first: number; last: number }[];
  addEventListener(type: 'message', listener: (event: { data: { type?: unknown } }) => void): void;
}
/** What is used of the page's own globals; the tests have no types for a page. */
interface PageGlobals {
  document: { hasFocus(): boolean; dispatchEvent(event: Event): void };
}
type Place = { x: number; y: number };

const slow = { timeout: 20_000 };

describe('path and text', () => {
  let folder: string;
  let workbench: Workbench;
  let view: Frame;

  /** The views of all panels that can be seen, from left to right and top to bottom. */
  const views = async (): Promise<Frame[]> => {
    const found: { frame: Frame; x: number; y: number }[] = [];
    for (const frame of workbench.page.frames()) {
      if (
        (await frame
          .locator('canvas.picture')
          .count()
          .catch(() => 0)) === 0
      )
        continue;
      const box = await (await frame.frameElement()).boundingBox();
      if (box && box.width > 0) found.push({ frame, x: box.x, y: box.y });
    }
    return found.sort((a, b) => a.x - b.x || a.y - b.y).map(({ frame }) => frame);
  };
  const titles = (): Promise<string[]> =>
    workbench.page.locator('.tab').filter({ hasText: 'Path' }).locator('.label-name').allTextContents();
  const extents = (of: Frame): Promise<string | null> => of.locator('.extents').textContent();
  /** Gives the keyboard to the program. */
  const toText = async (): Promise<void> => {
    await workbench.page.locator('.editor-instance .view-lines').first().click();
    await workbench.page.waitForFunction("document.activeElement?.matches('.editor-instance textarea')");
  };
  const followButton = (of: Frame) => of.getByRole('button', { name: 'Follow' });

  /** How the middle of the first cut is drawn. */
  const colourAt = (point: PartPoint): Promise<number[]> =>
    view.evaluate((given) => {
      const { pixel, project: place } = (globalThis as unknown as ViewGlobals).blockwrightTest;
      const { x, y } = place(given);
      return pixel(x, y);
    }, point);
  const difference = (a: number[], b: number[]): number => Math.max(...a.map((value, i) => Math.abs(value - b[i])));

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'blockwright-bound-'));
    for (const [name, content] of Object.entries(programs)) await writeFile(join(folder, name), content);
    workbench = await Workbench.open(folder);
    await workbench.openFile('loop.nc');
    view = await workbench.openPath();
    await view.locator('.extents', { hasText: 'X 0.000 to 60.000' }).waitFor();
  });

  afterAll(async () => {
    await workbench?.close();
    await rm(folder, { recursive: true, force: true });
  });

  it('lights the block of the cursor', async () => {
    await workbench.goTo(1, 1);
    const middle: PartPoint = [30, 0, -30];
    await expect.poll(() => colourAt(middle)).not.toEqual([0, 0, 0]);
    const plain = await colourAt(middle);
    await workbench.goTo(cutLine, 1);
    await expect.poll(async () => difference(await colourAt(middle), plain)).toBeGreaterThan(20);
  });

  it('goes to the line that was clicked, and says which pass it was', async () => {
    await view.getByRole('button', { name: 'Front ZX' }).click();
    await expect
      .poll(async () => (await project(view, [0, 0, -30])).y - (await project(view, [0, 0, 0])).y)
      .toBeGreaterThan(50);
    for (const [z, pass] of [
      [-20, 2],
      [-30, 3],
      [-10, 1],
    ]) {
      await toText();
      await workbench.goTo(1, 1);
      const { x, y } = await project(view, [30, 0, z]);
      await workbench.page.mouse.click(x, y);
      await workbench.waitForText('.statusbar', new RegExp(`Line 1[01]: pass ${pass} of 3`));
      await workbench.waitForText('.statusbar', /Ln 1[01], Col 1/);
    }
  });

  it('hears of the last of many steps of the cursor, and not of each', async () => {
    await toText();
    await workbench.goTo(14, 1);
    await view.evaluate(() => {
      const globals = globalThis as unknown as ViewGlobals;
      globals.lights = [];
      globals.addEventListener('message', ({ data }) => {
        if (data.type === 'lit') globals.lights.push(data as never);
      });
    });
    const presses = 60;
    await Promise.all(Array.from({ length: presses }, () => workbench.page.keyboard.press('ArrowDown')));
    const lights = (): Promise<ViewGlobals['lights']> =>
      view.evaluate(() => (globalThis as unknown as ViewGlobals).lights);
    await expect.poll(async () => (await lights()).at(-1)?.first).toBe(14 + presses - 1);
    expect((await lights()).length).toBeLessThan(presses * 0.75);
  });

  it('stays with its program while it does not follow, and follows again', async () => {
    await followButton(view).click();
    await expect.poll(() => followButton(view).getAttribute('aria-pressed')).toBe('false');
    await toText();
    await workbench.openFile('frame.nc');
    await workbench.goTo(8, 1);
    expect(await titles()).toEqual(['Path: loop.nc']);
    await followButton(view).click();
    await expect.poll(() => titles(), slow).toEqual(['Path: frame.nc']);
    await expect.poll(() => extents(view), slow).toContain('X 0.000 to 40.000');
  });

  it('goes to the line of a subprogram in its own file, and stays with the program that calls it', async () => {
    await toText();
    await workbench.openFile('caller.nc');
    await view.getByRole('button', { name: 'Top XY' }).click();
    await expect.poll(() => extents(view), slow).toContain('X 0.000 to 25.000');
    const { x, y } = await project(view, [25, 20, -1]);
    await workbench.page.mouse.click(x, y);
    await workbench.page.locator('.tab.active[data-resource-name="o500.nc"]').waitFor();
    await workbench.waitForText('.statusbar', 'Ln 4, Col 1');
    await workbench.waitForText('.statusbar', 'Line 4: called in line 9, move 2 of 2');
    expect(await titles()).toEqual(['Path: caller.nc']);
    await workbench.openFile('frame.nc');
    await expect.poll(() => titles(), slow).toEqual(['Path: frame.nc']);
  });

  it('draws what a repair of the arc would cut, as long as the repair is looked at', async () => {
    await toText();
    await workbench.openFile('slip.nc');
    await expect.poll(() => extents(view), slow).toContain('Y −40.000 to 0.000');
    await workbench.goTo(9, 1);
    // The arc that J instead of K gives, about X40 Y-20.
    const onArc = [30, 40, 45, 50, 60].map((degrees): PartPoint => {
      const angle = (degrees / 180) * Math.PI;
      return [40 + 20 * Math.cos(angle), -20 + 20 * Math.sin(angle), -1];
    });
    const colours = (): Promise<number[][]> => Promise.all(onArc.map(colourAt));
    const empty = await colours();
    // Dots have gaps: one of the places is on a dot.
    const drawn = async (): Promise<number> =>
      Math.max(...(await colours()).map((colour, i) => difference(colour, empty[i] ?? [])));
    await workbench.runCommand('Blockwright: Repair arc…');
    await workbench.waitForText('.quick-input-title', 'Repair the arc in line 9');
    await workbench.waitForText('.quick-input-widget .monaco-list-row.focused', 'J-20.');
    await expect.poll(drawn, slow).toBeGreaterThan(60);
    expect(await view.locator('.ghost').textContent()).not.toBe('');
    await workbench.screenshot('path-ghost-of-a-repair');
    await workbench.page.keyboard.press('Escape');
    await expect.poll(drawn, slow).toBeLessThan(10);
    expect(await view.locator('.ghost').textContent()).toBe('');
    await workbench.openFile('frame.nc');
    await expect.poll(() => titles(), slow).toEqual(['Path: frame.nc']);
  });

  it('opens a further panel below, which stays with its program', async () => {
    await toText();
    await workbench.runCommand('Blockwright: Show path of this program in a new panel');
    await expect.poll(async () => (await views()).length, slow).toBe(2);
    await expect.poll(() => titles(), slow).toEqual(['Path: frame.nc', 'Path: frame.nc']);
    await workbench.openFile('loop.nc');
    await expect.poll(() => titles(), slow).toEqual(['Path: loop.nc', 'Path: frame.nc']);
    const [upper, lower] = await views();
    await expect.poll(() => extents(upper), slow).toContain('X 0.000 to 60.000');
    await expect.poll(() => extents(lower), slow).toContain('X 0.000 to 40.000');
    expect(await followButton(upper).getAttribute('aria-pressed')).toBe('true');
    expect(await followButton(lower).getAttribute('aria-pressed')).toBe('false');
    await workbench.screenshot('path-two-panels');
  });

  it('opens a program that was closed when its path is clicked, and follows its edits', async () => {
    const [, lower] = await views();
    await workbench.openFile('frame.nc');
    await workbench.page.locator('.tab.active[data-resource-name="frame.nc"] .codicon-close').click();
    await workbench.page.locator('.tab[data-resource-name="frame.nc"]').waitFor({ state: 'detached' });
    const { x, y } = await project(lower, [40, 15, -1]);
    await workbench.page.mouse.click(x, y);
    await workbench.page.locator('.tab.active[data-resource-name="frame.nc"]').waitFor();
    await workbench.waitForText('.statusbar', 'Ln 9, Col 1');
    await workbench.page.keyboard.press('End');
    await workbench.page.keyboard.type(' X50.', { delay: 30 });
    await expect.poll(() => extents(lower), slow).toContain('X 0.000 to 50.000');
    for (let i = 0; i < 5; i++) await workbench.page.keyboard.press('Backspace');
    await workbench.page.keyboard.press('Control+s');
    await workbench.page.locator('.tab[data-resource-name="frame.nc"]:not(.dirty)').waitFor();
    await workbench.openFile('loop.nc');
  });

  it('is the same again after the window was loaded anew', async () => {
    const [, lower] = await views();
    await lower.getByRole('button', { name: 'Side YZ' }).click();
    await lower.locator('canvas.picture').focus();
    for (const key of ['ArrowRight', '+', 'ArrowUp']) await workbench.page.keyboard.press(key);
    const place = (of: Frame): Promise<Place> =>
      of.evaluate(() => (globalThis as unknown as ViewGlobals).blockwrightTest.project([40, 30, -1]));
    const before = await place(lower);
    // The workbench writes its state down once a minute, and when its window loses the keyboard.
    await workbench.page.waitForTimeout(500);
    await workbench.page.evaluate(() => {
      const globals = globalThis as unknown as PageGlobals;
      globals.document.hasFocus = () => false;
      globals.document.dispatchEvent(new Event('visibilitychange'));
    });
    await workbench.page.waitForTimeout(500);
    await workbench.page.reload();
    await expect.poll(async () => (await views()).length, { timeout: 60_000 }).toBe(2);
    await expect.poll(() => titles(), { timeout: 30_000 }).toEqual(['Path: loop.nc', 'Path: frame.nc']);
    const [upper, again] = await views();
    await expect.poll(() => extents(upper), { timeout: 30_000 }).toContain('X 0.000 to 60.000');
    await expect.poll(() => extents(again), slow).toContain('X 0.000 to 40.000');
    expect(await followButton(upper).getAttribute('aria-pressed')).toBe('true');
    expect(await followButton(again).getAttribute('aria-pressed')).toBe('false');
    expect(await again.getByRole('button', { name: 'Side YZ' }).getAttribute('aria-pressed')).toBe('true');
    const after = await place(again);
    expect(after.x).toBeCloseTo(before.x, 0);
    expect(after.y).toBeCloseTo(before.y, 0);
  });

  it('no console said an error', () => {
    expect(workbench.errors).toEqual([]);
  });
});
