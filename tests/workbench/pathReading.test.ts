// Reading the path in the real workbench: colours with their legend, what is left out, the move and its arc in words, the
// cutter, the contour as programmed, a second program.
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Frame } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type PartPoint, project } from './pathView.ts';
import { Workbench } from './workbench.ts';

/** The first tool goes along a compensated contour with an arc, the second one plunges and cuts straight, in G55. */
const program = (reach: number): string => `G17 G21 G40 G49 G80 G90
(T1 END MILL D10)
T1 M6
G54
S3000 M3
G0 X-30. Y-30.
G43 H1 Z5.
G1 Z-5. F200.
G41 D1 G1 X0. Y-20. F400.
Y40.
G2 X10. Y50. I10. J0.
G1 X${reach}.
Y0.
X-20.
G40 G1 X-30. Y-30.
G0 Z50.
(T2 DRILL D6)
T2 M6
G55
S2000 M3
G0 X20. Y22.
G43 H2 Z5.
G1 Z-10. F90.
X50. F900.
G0 Z50.
M30
`;
const shop = {
  tools: [
    { number: 1, kind: 'end-mill', diameter: 10 },
    { number: 2, kind: 'drill', diameter: 6, pointAngle: 118 },
  ],
};

interface ViewGlobals {
  readonly blockwrightTest: { pixel(x: number, y: number): number[]; project(point: readonly number[]): Place };
}
type Place = { x: number; y: number };
interface AxeGlobals {
  readonly document: unknown;
  readonly axe: {
    run(root: unknown, options: unknown): Promise<{ violations: { id: string }[]; passes: unknown[] }>;
  };
}

describe('reading the path', () => {
  let folder: string;
  let workbench: Workbench;
  let view: Frame;

  /** How strongly a place of the part differs from the background, 0 to 255; the strongest of the pixels about it. */
  const drawnAt = (point: PartPoint): Promise<number> =>
    view.evaluate((given) => {
      const { pixel, project: place } = (globalThis as unknown as ViewGlobals).blockwrightTest;
      const { x, y } = place(given);
      const ground = pixel(x + 9, y + 9);
      const about = [-1, 0, 1].flatMap((dx) => [-1, 0, 1].map((dy) => pixel(x + dx, y + dy)));
      return Math.max(...about.map((colour) => Math.max(...colour.map((value, i) => Math.abs(value - ground[i])))));
    }, point);
  const colourAt = (point: PartPoint): Promise<number[]> =>
    view.evaluate((given) => {
      const { pixel, project: place } = (globalThis as unknown as ViewGlobals).blockwrightTest;
      const { x, y } = place(given);
      return pixel(x, y);
    }, point);
  const legend = (): Promise<string | null> => view.locator('.legend').textContent();
  const check = (name: RegExp) => view.locator('.sheet').getByRole('checkbox', { name });
  const colourBy = (what: string) => view.locator('.sheet select').selectOption(what);

  /** Places on the path, away from the corners: on a straight cut, on the rapid between the tools, on the second tool's cut. */
  const straight: PartPoint = [-5, 10, -5];
  const second: PartPoint = [37, 22, -10];

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'blockwright-reading-'));
    await writeFile(join(folder, 'first.nc'), program(70));
    await writeFile(join(folder, 'longer.nc'), program(90));
    await writeFile(join(folder, 'blockwright.json'), JSON.stringify(shop));
    workbench = await Workbench.open(folder);
    await workbench.openFile('first.nc');
    view = await workbench.openPath();
    await view.locator('.extents', { hasText: 'X −30.000' }).waitFor();
    await view.getByRole('button', { name: 'Show…' }).click();
    await view.locator('.sheet', { hasText: 'T2 drill' }).waitFor();
  });

  afterAll(async () => {
    await workbench?.close();
    await rm(folder, { recursive: true, force: true });
  });

  it('says what the colours mean, for each thing they can tell', async () => {
    expect(await legend()).toBe('straightarcrapidplungehelix');
    await colourBy('feed');
    await expect.poll(() => legend()).toBe('Feed90200400900mm/min');
    const [slow, fast] = [await colourAt(straight), await colourAt(second)];
    expect(Math.max(...slow.map((value, i) => Math.abs(value - fast[i])))).toBeGreaterThan(40);
    await colourBy('speed');
    await expect.poll(() => legend()).toBe('Speed20003000rev/min');
    await colourBy('depth');
    await expect.poll(() => legend()).toBe('Z−10.0005.000mm');
    await colourBy('tool');
    await expect.poll(() => legend()).toBe('T1T2');
    const [first, other] = [await colourAt(straight), await colourAt(second)];
    expect(Math.max(...first.map((value, i) => Math.abs(value - other[i])))).toBeGreaterThan(40);
  });

  it('has a sheet that axe-core finds nothing in', async () => {
    await view.evaluate(await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8'));
    const { violations, passed } = await view.evaluate(async () => {
      const { axe, document } = globalThis as unknown as AxeGlobals;
      const { violations: found, passes } = await axe.run(document, { preload: false });
      return { violations: found.map(({ id }) => id), passed: passes.length };
    });
    expect(violations).toEqual([]);
    expect(passed).toBeGreaterThan(10);
  });

  it('colours by time once the times have come', async () => {
    await colourBy('time');
    await expect.poll(() => legend()).toMatch(/^Time0:00\d+:\d\d$/);
    // From early to late the scale goes from dark to bright.
    const green = async (point: PartPoint): Promise<number> => (await colourAt(point))[1];
    await expect.poll(async () => (await green(second)) - (await green(straight))).toBeGreaterThan(20);
    await workbench.screenshot('path-colours');
    await colourBy('kind');
  });

  it('leaves out a kind of line, by the sheet and by the key', async () => {
    await view.getByRole('button', { name: 'Front ZX' }).click();
    const rapid: PartPoint[] = [24, 28, 32, 36, 40].map((z) => [-30, -30, z]);
    const rapids = async (): Promise<number> => Math.max(...(await Promise.all(rapid.map(drawnAt))));
    await expect.poll(() => rapids()).toBeGreaterThan(30);
    await check(/^rapid$/).uncheck();
    await expect.poll(() => rapids()).toBeLessThan(10);
    await view.locator('canvas.picture').focus();
    await workbench.page.keyboard.press('r');
    await expect.poll(() => rapids()).toBeGreaterThan(30);
    expect(await check(/^rapid$/).isChecked()).toBe(true);
    await view.getByRole('button', { name: 'Top XY' }).click();
  });

  it('leaves out a tool, and does not find its lines under the pointer', async () => {
    expect(await drawnAt(second)).toBeGreaterThan(40);
    await check(/^T2 drill/).uncheck();
    await expect.poll(() => drawnAt(second)).toBeLessThan(10);
    expect(await drawnAt(straight)).toBeGreaterThan(40);
    const { x, y } = await project(view, second);
    await workbench.page.mouse.move(x, y);
    await expect.poll(() => view.locator('.pointer').textContent()).toMatch(/X 3[67]\./);
    expect(await view.locator('.pointer').textContent()).not.toContain('line');
    await view.getByRole('button', { name: 'Show everything' }).click();
    await expect.poll(() => drawnAt(second)).toBeGreaterThan(40);
  });

  it('says in words which move is under the pointer, with centre and radius of its arc', async () => {
    const { x, y } = await project(view, [10 - 15 * Math.SQRT1_2, 40 + 15 * Math.SQRT1_2, -5]);
    await workbench.page.mouse.move(x, y);
    await view.locator('.tip', { hasText: 'Line 11' }).waitFor();
    const words = await view.locator('.tip').textContent();
    expect(words).toContain('Clockwise arc in XY');
    expect(words).toContain('Centre X10 Y40, radius 15 mm');
    await workbench.page.mouse.move(x + 60, y + 40);
    await expect.poll(() => view.locator('.tip').isVisible()).toBe(false);
  });

  it('draws the contour as programmed beside the path of the compensated cutter', async () => {
    const contour: PartPoint[] = [25, 35, 45, 55, 65].map((degrees) => {
      const turn = (degrees * Math.PI) / 180;
      return [10 - 10 * Math.cos(turn), 40 + 10 * Math.sin(turn), -5];
    });
    const fine = async (): Promise<number> => Math.max(...(await Promise.all(contour.map(drawnAt))));
    await expect.poll(() => fine()).toBeGreaterThan(30);
    await check(/^Contour/).uncheck();
    await expect.poll(() => fine()).toBeLessThan(25);
    await check(/^Contour/).check();
    await expect.poll(() => fine()).toBeGreaterThan(30);
  });

  it('draws the cutter at the end of the lit block, as wide as it is', async () => {
    await workbench.page.locator('.editor-instance .view-lines').first().click();
    await workbench.goTo(10, 1);
    // The block ends at X−5 Y40, the cutter is 10 mm wide: seen from above it reaches 5 mm about that place.
    const about = (radius: number): PartPoint => [-5 - radius * Math.SQRT1_2, 40 + radius * Math.SQRT1_2, -5];
    const strip = [3, 4.4, 4.8, 5, 5.2, 5.6, 7].map(about);
    const colours = (): Promise<number[][]> => Promise.all(strip.map(colourAt));
    const plain = async (): Promise<number[][]> => {
      await check(/^Cutter/).uncheck();
      return colours();
    };
    const without = await plain();
    await check(/^Cutter/).check();
    const differences = async (): Promise<number[]> =>
      (await colours()).map((colour, i) => Math.max(...colour.map((value, k) => Math.abs(value - without[i][k]))));
    await expect.poll(async () => Math.max(...(await differences()).slice(1, -1))).toBeGreaterThan(60);
    const [inside, ...edge] = await differences();
    expect(inside).toBeGreaterThan(5);
    expect(edge.at(-1)).toBe(0);
  });

  it('lays another program over this one and takes it off', async () => {
    const beyond: PartPoint[] = [20, 22, 24, 26, 28, 30].map((y) => [95, y, -5]);
    const other = async (): Promise<number> => Math.max(...(await Promise.all(beyond.map(drawnAt))));
    await workbench.page.locator('.editor-instance .view-lines').first().click();
    await workbench.openFile('longer.nc');
    await workbench.openFile('first.nc');
    await view.locator('.extents', { hasText: 'to 75.000' }).waitFor();
    await view.getByRole('button', { name: 'Lay another program over…' }).click();
    const row = workbench.page.locator('.quick-input-widget .monaco-list-row').filter({ hasText: 'longer.nc' });
    await row.first().waitFor();
    await workbench.page.keyboard.press('Enter');
    await view.getByRole('button', { name: 'Take off longer.nc' }).waitFor();
    await expect.poll(() => other()).toBeGreaterThan(30);
    await workbench.screenshot('path-two-programs');
    await view.getByRole('button', { name: 'Take off longer.nc' }).click();
    await expect.poll(() => other()).toBeLessThan(10);
  });

  it('no console said an error', () => {
    expect(workbench.errors).toEqual([]);
  });
});
