// The path view for everyone: nothing for axe-core to find in any theme, words that stay in step, and a picture where the
// graphics card fails or is missing.

import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Frame } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { crossingAt, drawnStrengths, type PartPoint, seenStrengths } from './pathView.ts';
import { Workbench } from './workbench.ts';

const program = `G17 G21 G40 G49 G80 G90 G94
G54
T1 M6 (END MILL D8)
S3000 M3
G0 X0. Y0.
Z5.
G1 Z-1. F200.
X60. F300.
G3 X70. Y10. J10.
G1 Y37.
G2 X60. Y47. I0. J10.
G1 X0.
G0 Z50.
M30
`;
/** On the last cut, away from the lines of the grid, and a point beside it. */
const onCut: PartPoint = [33, 47, -1];
const beside: PartPoint = [33, 43, -1];
const themes = [
  ['Dark Modern', 'vscode-dark'],
  ['Light Modern', 'vscode-light'],
  ['Dark High Contrast', 'vscode-high-contrast'],
  ['Light High Contrast', 'vscode-high-contrast-light'],
] as const;

interface Violation {
  readonly id: string;
  readonly nodes: readonly { readonly html: string; readonly failureSummary?: string }[];
}
interface AxeGlobals {
  readonly axe: { run(root: unknown, options: unknown): Promise<{ violations: Violation[]; passes: unknown[] }> };
  readonly document: { querySelector(selector: string): Canvas | null };
}
interface Card {
  loseContext(): void;
  restoreContext(): void;
}
interface Canvas {
  getContext(kind: string): { getExtension(name: string): Card } | null;
}

describe('the path view for everyone', () => {
  let folder: string;
  let workbench: Workbench;
  let view: Frame;

  const setTheme = async (name: string, bodyClass: string): Promise<void> => {
    await workbench.page.keyboard.press('Control+k');
    await workbench.page.keyboard.press('Control+t');
    const input = workbench.page.locator('.quick-input-widget input.input');
    await workbench.page.locator('.quick-input-widget .monaco-list-row', { hasText: 'Light Modern' }).first().waitFor();
    await input.fill(name);
    await workbench.page.locator('.quick-input-widget .monaco-list-row.focused', { hasText: name }).waitFor();
    await input.press('Enter');
    await view.locator(`body.${bodyClass}`).waitFor();
  };
  /** What axe-core has to say, in short. */
  const faults = async (): Promise<string[]> => {
    const { violations, passes } = await view.evaluate(async () => {
      const { axe, document } = globalThis as unknown as AxeGlobals;
      const { violations: found, passes: fine } = await axe.run(document, { preload: false });
      return { violations: found, passes: fine.length };
    });
    expect(passes).toBeGreaterThan(10);
    return violations.flatMap(({ id, nodes }) =>
      nodes.map(({ html, failureSummary }) => `${id}: ${html} ${failureSummary}`),
    );
  };
  const strength = async (): Promise<number> =>
    (await drawnStrengths(view, [await crossingAt(view, onCut, beside)]))[0];
  const summary = async (): Promise<string> => (await view.locator('.summary').textContent()) ?? '';
  /** Loses the graphics card, or gives it back. */
  const card = (what: 'loseContext' | 'restoreContext'): Promise<void> =>
    view.evaluate((call) => {
      const globals = globalThis as unknown as AxeGlobals & { card?: Card | undefined };
      globals.card ??= globals.document
        .querySelector('canvas.picture')
        ?.getContext('webgl2')
        ?.getExtension('WEBGL_lose_context');
      globals.card?.[call]();
    }, what);

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'blockwright-everyone-'));
    await writeFile(join(folder, 'plate.nc'), program);
    workbench = await Workbench.open(folder);
    await workbench.openFile('plate.nc');
    view = await workbench.openPath();
    await view.locator('.extents', { hasText: 'X 0.000 to 70.000' }).waitFor();
    await view.evaluate(await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8'));
  });

  afterAll(async () => {
    await workbench?.close();
    await rm(folder, { recursive: true, force: true });
  });

  it('tells the path in words that stay in step', async () => {
    await expect.poll(summary).toContain('Cut: X 0.000 to 70.000 = 70.000');
    const said = await summary();
    expect(said).toContain('Path of plate.nc, in millimetres.');
    expect(said).toContain('T1, END MILL D8, from line 3');
    expect(said).toMatch(/Nominal time \d+ s: \d+ s at feed/);
    const [described] = await view
      .locator('canvas.picture')
      .evaluateAll((canvases) => canvases.map((canvas) => canvas.getAttribute('aria-describedby')));
    expect(await view.locator(`#${described}`).getAttribute('aria-live')).toBe('polite');
    await workbench.goTo(8, 4);
    await workbench.page.keyboard.type('9');
    await expect.poll(summary, { timeout: 10_000 }).toMatch(/Findings: \d+ error.*Line 9: /);
    await workbench.page.keyboard.press('Control+z');
    await expect.poll(summary, { timeout: 10_000 }).toContain('Cut: X 0.000 to 70.000 = 70.000');
  });

  it.each(themes)('%s: the path stands out, and axe-core finds nothing', async (name, bodyClass) => {
    await setTheme(name, bodyClass);
    await expect.poll(strength).toBeGreaterThan(60);
    expect(await faults()).toEqual([]);
    await view.getByRole('button', { name: 'Picture', exact: true }).click();
    expect(await faults()).toEqual([]);
    await workbench.page.keyboard.press('Escape');
    const measure = view.getByRole('button', { name: 'Measure', exact: true });
    await measure.click();
    await view.locator('.measure').waitFor();
    expect(await faults()).toEqual([]);
    await measure.click();
    await workbench.screenshot(`path-theme-${bodyClass}`);
  });

  it('draws again once the graphics card is back', async () => {
    await card('loseContext');
    await view.locator('.notice', { hasText: 'graphics card' }).waitFor();
    await expect.poll(strength).toBeLessThan(30);
    await card('restoreContext');
    await view.locator('.notice').waitFor({ state: 'hidden' });
    await expect.poll(strength).toBeGreaterThan(60);
    const crossing = await crossingAt(view, onCut, beside);
    await expect.poll(async () => (await seenStrengths(view, [crossing]))[0]).toBeGreaterThan(60);
  });

  it('no console said an error', () => {
    expect(workbench.errors).toEqual([]);
  });

  it('draws the flat views without WebGL, and says so', async () => {
    await workbench.page.addInitScript(() => {
      const { HTMLCanvasElement: Element } = globalThis as unknown as {
        HTMLCanvasElement: { prototype: { getContext(kind: string): unknown } };
      };
      const before = Element.prototype.getContext;
      Element.prototype.getContext = function (this: unknown, kind: string, ...more: unknown[]) {
        return kind.startsWith('webgl') ? null : Reflect.apply(before, this, [kind, ...more]);
      };
    });
    await workbench.page.locator('.tab', { hasText: 'Path: plate.nc' }).locator('.codicon-close').click();
    await workbench.page.locator('.editor-instance .view-lines').first().click();
    view = await workbench.openPath();
    await view.locator('.notes', { hasText: 'no WebGL' }).waitFor();
    const crossing = async (on: PartPoint, off: PartPoint): Promise<number> =>
      (await seenStrengths(view, [await crossingAt(view, on, off)]))[0];
    await expect.poll(() => crossing(onCut, beside)).toBeGreaterThan(60);
    expect(await crossing([60 + 10 * Math.SQRT1_2, 10 - 10 * Math.SQRT1_2, -1], [65, 5, -1])).toBeGreaterThan(60);
    const before = await crossingAt(view, onCut, beside);
    await view.locator('canvas.picture').focus();
    await workbench.page.keyboard.press('ArrowUp');
    await expect.poll(() => crossing(onCut, beside)).toBeGreaterThan(60);
    expect((await crossingAt(view, onCut, beside)).at.y).toBeCloseTo(before.at.y + 40, 0);
    await workbench.page.keyboard.press('4');
    expect(await view.getByRole('button', { name: 'Top XY' }).getAttribute('aria-pressed')).toBe('true');
    await workbench.page.keyboard.press('2');
    await expect.poll(() => crossing([30, 0, -1], [30, 0, 10])).toBeGreaterThan(60);
    await workbench.screenshot('path-without-webgl');
  });

  it('leaves out tools and colours by depth without WebGL, too', async () => {
    await workbench.page.keyboard.press('1');
    const crossing = async (): Promise<number> =>
      (await seenStrengths(view, [await crossingAt(view, onCut, beside)]))[0];
    const colours = (): Promise<(string | null)[]> =>
      view.locator('svg.flat path').evaluateAll((lines) => lines.map((line) => line.getAttribute('stroke')));
    await expect.poll(crossing).toBeGreaterThan(60);
    await view.getByRole('button', { name: 'Show…', exact: true }).click();
    const tool = view.locator('.sheet').getByRole('checkbox', { name: /^T1/ });
    await tool.uncheck();
    await expect.poll(crossing).toBeLessThan(30);
    await tool.check();
    await expect.poll(crossing).toBeGreaterThan(60);
    const before = new Set(await colours());
    await view.locator('.sheet select').selectOption('depth');
    await expect.poll(async () => (await colours()).filter((colour) => !before.has(colour)).length).toBeGreaterThan(1);
    await workbench.screenshot('path-without-webgl-depth');
  });
});
