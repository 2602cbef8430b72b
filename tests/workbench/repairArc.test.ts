// The command "Repair arc…" in the real workbench: the list, the drawing of the marked repair, the repair taken.
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Frame } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Workbench } from './workbench.ts';

/** What the view offers to tests in its window. */
interface ViewGlobals {
  readonly blockwrightTest: {
    project(point: readonly number[]): { x: number; y: number };
    pixel(x: number, y: number): number[];
  };
}

const WRONG = `G17 G21 G40 G49 G80 G90
G54
T1 M6
S3000 M3
G0 X0. Y0.
Z5.
G1 Z-1. F100.
X40. F300.
G3 X50. Y10. I0. K10.
G1 Y30.
M30
`;

describe('the repair of a wrong arc', () => {
  let folder: string;
  let workbench: Workbench;
  let view: Frame;

  /** True if something strong is drawn within two pixels of a point of the work (on a light theme). */
  const drawnAt = (point: readonly number[]): Promise<boolean> =>
    view.evaluate((given) => {
      const { pixel, project } = (globalThis as unknown as ViewGlobals).blockwrightTest;
      const { x, y } = project(given);
      const strong = (dx: number, dy: number): boolean => Math.min(...pixel(x + dx, y + dy)) < 150;
      return [-2, -1, 0, 1, 2].some((dx) => [-2, -1, 0, 1, 2].some((dy) => strong(dx, dy)));
    }, point);

  /** How many of 21 places along the right arc something is drawn at. */
  const arcDrawn = async (): Promise<number> => {
    let count = 0;
    for (let k = 4; k <= 16; k++) {
      const angle = (Math.PI / 2) * (k / 20 - 1);
      if (await drawnAt([40 + 10 * Math.cos(angle), 10 + 10 * Math.sin(angle), -1])) count++;
    }
    return count;
  };

  /** Dots along the right arc, each with a gap behind it, and how many of 9 pixels' length it has room for. */
  const dots = (): Promise<{ count: number; room: number }> =>
    view.evaluate(() => {
      const { pixel, project } = (globalThis as unknown as ViewGlobals).blockwrightTest;
      const at = (angle: number) => project([40 + 10 * Math.cos(angle), 10 + 10 * Math.sin(angle), -1]);
      const length = ((at(0).x - at(-Math.PI / 2).x) * Math.PI) / 2;
      let count = 0;
      let inDot = false;
      for (let walked = 0; walked <= length; walked++) {
        const { x, y } = at((Math.PI / 2) * (walked / length - 1));
        const dark = Math.min(...pixel(x, y)) < 150;
        if (inDot && !dark) count++;
        inDot = dark;
      }
      return { count, room: length / 9 };
    });

  const projected = (): Promise<{ x: number; y: number }> =>
    view.evaluate(() => (globalThis as unknown as ViewGlobals).blockwrightTest.project([40, 0, -1]));

  const placeholder = (): Promise<string | null> =>
    workbench.page.locator('.quick-input-widget input.input').getAttribute('placeholder');

  /** Runs the command from the palette; its own list follows in the same place. */
  const repairArc = async (): Promise<void> => {
    const { page } = workbench;
    await page.keyboard.press('F1');
    const input = page.locator('.quick-input-widget input.input');
    await input.fill('>Blockwright: Repair arc…');
    await page.locator('.quick-input-widget .monaco-list-row.focused', { hasText: 'Repair arc…' }).waitFor();
    await input.press('Enter');
    await workbench.waitForText('.quick-input-title', 'Repair the arc in line 9');
  };

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'blockwright-repair-'));
    await writeFile(join(folder, 'corner.nc'), WRONG);
    workbench = await Workbench.open(folder);
    await workbench.openFile('corner.nc');
  });

  afterAll(async () => {
    await workbench?.close();
    await rm(folder, { recursive: true, force: true });
  });

  it('is listed where the path is not shown, with a word on where it would be drawn', async () => {
    await workbench.goTo(9, 1);
    await repairArc();
    await expect.poll(placeholder).toContain('with the path view open');
    await workbench.page.keyboard.press('Escape');
    await workbench.goTo(10, 1);
    await workbench.runCommand('Blockwright: Repair arc…');
    await workbench.waitForText('.notifications-toasts', 'No arc to repair in line 10.');
  });

  it('is led to from the light bulb', async () => {
    const { page } = workbench;
    await workbench.goTo(9, 1);
    await workbench.takeFix('Repair arc… (look at each in the path view)');
    await workbench.waitForText('.quick-input-title', 'Repair the arc in line 9');
    await page.keyboard.press('Escape');
  });

  it('is listed by its result, drawn in dots while it is marked, and written when it is taken', async () => {
    const { page } = workbench;
    await workbench.goTo(9, 1);
    view = await workbench.openPath();
    await expect.poll(arcDrawn, { timeout: 20_000 }).toBe(0);
    const before = await projected();
    await repairArc();
    expect(await placeholder()).toContain('draws the marked one');
    const rows = page.locator('.quick-input-list .monaco-list-row');
    await expect
      .poll(() => rows.first().textContent(), { timeout: 20_000 })
      .toContain('Write J10. (centre X40. Y10., radius 10., 90° counter-clockwise)');
    await expect.poll(arcDrawn, { timeout: 20_000 }).toBeGreaterThan(6);
    expect(await view.locator('.ghost').textContent()).toContain('Nothing is changed yet');
    // Dots with gaps, though the chords of the arc are shorter than a dot.
    const { count, room } = await dots();
    expect(Math.abs(count - room)).toBeLessThan(2);
    // The words on them move nothing.
    expect(await projected()).toEqual(before);
    await page.keyboard.press('Escape');
    await expect.poll(arcDrawn, { timeout: 20_000 }).toBe(0);
    await workbench.goTo(9, 1);
    await repairArc();
    await rows.first().waitFor();
    await page.keyboard.press('Enter');
    await expect.poll(() => workbench.lineText(9), { timeout: 20_000 }).toBe('G3 X50. Y10. I0. J10.');
    await expect.poll(arcDrawn, { timeout: 20_000 }).toBe(13);
  });
});
