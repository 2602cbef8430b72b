// The playback of a run in the real workbench: it ends at the clock of `trace`, stops, steps, and the text follows.
import { execFileSync } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Frame } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type PartPoint, project } from './pathView.ts';
import { Workbench } from './workbench.ts';

// Arcs, a helix, waits by G4 and in a cycle, both kinds of stop, a change of tool.
const program = `G17 G21 G40 G49 G80 G90
G54
T1 M6 (8MM END MILL)
S3000 M3
G0 X0. Y0.
G43 H1 Z5.
G1 Z-2. F100.
X40. F300.
G3 X50. Y10. J10.
G1 Y30.
G4 P1500
G2 X40. Y40. Z-4. I-10. J0. F200.
G1 X0.
G0 Z50.
M1
T2 M6 (DRILL D6)
S1500 M3
G43 H2 Z20.
G82 X10. Y20. Z-12. R2. P500 F90.
X30.
G83 X20. Y10. Z-20. R2. Q6.
G80
G0 Z50.
${'(REMARK)\n'.repeat(60)}M30
`;
const secondTool = 16;
const loop = `G17 G21 G40 G49 G80 G90
G54
T1 M6 (DRILL D6)
S3000 M3
G0 X0. Y0. Z5.
#1=0
WHILE [#1 LT 3] DO1
G91 G1 X10. F300.
#1=#1+1
END1
G90 G99 G81 X50. Z-8. R2. F100.
G80
M30
`;

interface Traced {
  readonly moves: readonly { readonly tool: number; readonly seconds: number | null }[];
}

interface ViewGlobals {
  readonly axe: { run(root: unknown, options: unknown): Promise<{ violations: { id: string }[]; passes: unknown[] }> };
  readonly document: unknown;
  readonly blockwrightTest: {
    pixel(x: number, y: number): number[];
    project(point: readonly number[]): { x: number; y: number };
  };
}

describe('playback', () => {
  let folder: string;
  let workbench: Workbench;
  let view: Frame;
  let moves: Traced['moves'];

  const bar = () => view.locator('.play');
  const button = (name: string) => bar().getByRole('button', { name });
  const slider = () => bar().getByRole('slider');
  const seconds = async (): Promise<number> => Number(await slider().inputValue());
  const now = async (): Promise<string> => (await bar().locator('.now').textContent()) ?? '';
  const press = (key: string): Promise<void> => workbench.page.keyboard.press(key);
  const sum = (of: Traced['moves']): number => of.reduce((total, move) => total + (move.seconds ?? 0), 0);
  /** Plays until it stops by itself; the clock is driven by the pictures of the screen. */
  const played = async (): Promise<void> => {
    await view.locator('.play .controls button[title^="Pause"]').waitFor();
    await view.locator('.play .controls button[title^="Play"]').waitFor({ timeout: 60_000 });
  };
  const litLine = async (): Promise<string> => {
    const { page } = workbench;
    const lit = page.locator('.editor-instance .view-overlays div[class*="ced-"]');
    const box = (await lit.count()) > 0 ? await lit.first().boundingBox() : undefined;
    const numbers = await page.locator('.editor-instance .margin-view-overlays .line-numbers').all();
    for (const number of numbers) {
      const place = await number.boundingBox();
      if (box && place && Math.abs(place.y - box.y) < 3) return (await number.textContent()) ?? '';
    }
    return '';
  };

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'blockwright-playback-'));
    const file = join(folder, 'run.nc');
    await writeFile(file, program);
    await writeFile(join(folder, 'loop.nc'), loop);
    const cli = new URL('../../dist/cli.js', import.meta.url).pathname;
    moves = (JSON.parse(execFileSync(process.execPath, [cli, 'trace', file], { encoding: 'utf8' })) as Traced).moves;
    workbench = await Workbench.open(folder);
    await workbench.openFile('run.nc');
    view = await workbench.openPath();
    await view.locator('.extents', { hasText: 'X 0.000 to' }).waitFor();
  });

  afterAll(async () => {
    await workbench?.close();
    await rm(folder, { recursive: true, force: true });
  });

  it('is one button until it is used, then plays to the end, at the clock of trace', async () => {
    expect(await bar().getByRole('button').count()).toBe(1);
    await button('Play the run of the program').click();
    await bar().getByRole('combobox').selectOption('25');
    await played();
    const total = sum(moves);
    expect(total).toBeGreaterThan(40);
    expect(Math.abs((await seconds()) - total)).toBeLessThan(1e-6);
    expect(Number(await slider().getAttribute('max'))).toBeCloseTo(total, 6);
    expect(await bar().locator('.clock').textContent()).toMatch(/ run, 0:00\.0 to go$/);
    expect(await now()).toContain('Z 50.000');
    expect(await now()).toContain('T2 DRILL D6');
  });

  it('stops at M1 and the change of tool where that is wanted, and goes on', async () => {
    await bar().getByRole('combobox').selectOption('10');
    for (const name of ['tool changes', 'M1']) await bar().getByRole('checkbox', { name }).check();
    await view.locator('canvas.picture').focus();
    await press('Home');
    expect(await seconds()).toBe(0);
    await press('Space');
    await played();
    expect(await seconds()).toBeCloseTo(sum(moves.filter(({ tool }) => tool !== 2)), 6);
    const words = await bar().locator('.words').textContent();
    expect(words).toContain(`Optional stop M1 at line ${secondTool - 1}.`);
    expect(words).toContain(`Tool change at line ${secondTool}: T2 DRILL D6.`);
    await press('Space');
    await played();
    expect(await seconds()).toBeCloseTo(sum(moves), 6);
  });

  it('leaves axe-core nothing to find while it is open', async () => {
    await view.evaluate(await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8'));
    const found = await view.evaluate(async () => {
      const { axe, document } = globalThis as unknown as ViewGlobals;
      const { violations, passes } = await axe.run(document, { preload: false });
      return { violations: violations.map(({ id }) => id), passes: passes.length };
    });
    expect(found.violations).toEqual([]);
    expect(found.passes).toBeGreaterThan(10);
  });

  it('steps block by block by keys, the text follows and the keyboard stays', async () => {
    await press('Home');
    const lines: string[] = [];
    while (lines.length < 7) {
      await press('.');
      lines.push((await now()).match(/^Line (\d+)/)?.[1] ?? '');
      await expect.poll(litLine).toBe(lines.at(-1));
    }
    // Before line 7 it is not known where the tool is.
    expect(lines).toEqual(['7', '8', '9', '10', '11', '12', '13']);
    expect(await now()).toContain('X 0.000  Y 40.000  Z -4.000 mm'.replace('-', '−'));
    expect(await now()).toContain('F 200 mm/min');
    expect(await now()).toContain('S 3000 rev/min');
    expect(await now()).toContain('G54, no coolant');
    await press(',');
    await press(',');
    expect(await now()).toMatch(/^Line 11/);
    expect(await now()).toContain('waits');
    expect(await view.evaluate('document.hasFocus() && document.activeElement.className')).toBe('picture');
  });

  it('draws the path behind the tool in full and ahead of it faintly, until it is closed', async () => {
    const strength = async (point: PartPoint): Promise<number> => {
      const colours = await view.evaluate((given) => {
        const { pixel, project: place } = (globalThis as unknown as ViewGlobals).blockwrightTest;
        const { x, y } = place(given);
        return [pixel(x, y), pixel(x + 9, y + 9)];
      }, point);
      return Math.max(...[0, 1, 2].map((channel) => Math.abs(colours[0][channel] - colours[1][channel])));
    };
    const [behind, ahead]: PartPoint[] = [
      [20, 0, -2],
      [20, 40, -4],
    ];
    await expect.poll(async () => (await strength(ahead)) / (await strength(behind))).toBeLessThan(0.5);
    expect(await strength(ahead)).toBeGreaterThan(15);
    await workbench.screenshot('path-playback');
    await button('Close the playback').click();
    await expect.poll(async () => (await strength(ahead)) / (await strength(behind))).toBeGreaterThan(0.8);
    expect(await bar().getByRole('button').count()).toBe(1);
    await expect.poll(litLine).toBe('');
  });

  it('goes to any time by its slider, where the tool then is', async () => {
    await view.locator('canvas.picture').focus();
    await press('.');
    const before = sum(moves.slice(0, 3));
    await slider().evaluate((element, value) => {
      const range = element as unknown as { value: string; dispatchEvent(event: Event): void };
      range.value = String(value);
      range.dispatchEvent(new Event('input'));
    }, before + 4);
    // 4 s at 300 mm/min are 20 mm.
    expect(await now()).toContain('X 20.000  Y 0.000');
    const place = await project(view, [20, 0, -2]);
    expect(place.x).toBeGreaterThan(0);
  });

  it('stays at its second when the program is changed', async () => {
    const at = await seconds();
    await workbench.page.locator('.editor-instance .view-lines').first().click();
    await workbench.goTo(8, 1);
    await press('Home');
    await workbench.page.keyboard.type('(A) ');
    await expect.poll(now).toContain('X 20.000  Y 0.000');
    expect(await seconds()).toBeCloseTo(at, 9);
  });

  it('goes from block to block where motion is not wanted', async () => {
    const { page } = workbench;
    await page.emulateMedia({ reducedMotion: 'reduce' });
    await bar().getByRole('combobox').selectOption('5');
    await view.locator('canvas.picture').focus();
    await press('Home');
    await press('Space');
    const seen = new Set<string>();
    while ((await seconds()) < 20) seen.add((await now()).match(/X (\S+)/)?.[1] ?? '');
    await press('Space');
    await page.emulateMedia({ reducedMotion: null });
    // The ends of the blocks; before line 7 no place is known.
    seen.delete('');
    expect([...seen].filter((x) => !['0.000', '40.000', '50.000'].includes(x))).toEqual([]);
    expect(seen.size).toBeGreaterThan(1);
  });

  it('steps each pass of a loop of one block and says which it is, and down to the bottom of a hole', async () => {
    await workbench.page.locator('.editor-instance .view-lines').first().click();
    await workbench.openFile('loop.nc');
    await view.locator('.extents', { hasText: 'X 0.000 to 50.000' }).waitFor();
    await button('Play the run of the program').click();
    await view.locator('.play .controls button[title^="Pause"]').waitFor();
    await view.locator('canvas.picture').focus();
    await press('Space');
    await press('Home');
    while (!(await now()).startsWith('Line 8')) await press('.');
    for (const pass of [1, 2, 3]) {
      await expect.poll(now).toMatch(new RegExp(`^Line 8, pass ${pass} of 3.*X ${pass}0\\.000`));
      await press('.');
    }
    expect(await now()).toMatch(/^Line 11.*X 50\.000.*Z −8\.000/);
    await press('.');
    expect(await now()).toMatch(/^Line 11.*X 50\.000.*Z 2\.000/);
    await press(',');
    expect(await now()).toMatch(/^Line 11.*X 50\.000.*Z −8\.000/);
  });

  it('no console said an error', () => {
    expect(workbench.errors).toEqual([]);
  });
});
