// The status bar, a block in sentences, and the blocks that cut at a place, in the real workbench in a browser.
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Workbench } from './workbench.ts';

const PROGRAM = `G17 G21 G40 G49 G80 G90 G54
T1 M6 (END MILL D10)
S3000 M3
G0 X0. Y0.
G43 H1 Z5.
G1 Z-2. F100
X50.
Y40.
X0.
Y0.
G0 Z50.
M30
`;

describe('a block in other words', () => {
  let folder: string;
  let workbench: Workbench;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'blockwright-status-'));
    await writeFile(join(folder, 'frame.nc'), PROGRAM);
    await writeFile(join(folder, 'again.nc'), PROGRAM.replace('X50.', 'G90 X50.\nG90 X45.'));
    await writeFile(join(folder, 'notes.txt'), 'not a program\n');
    workbench = await Workbench.open(folder);
  });

  afterAll(async () => {
    await workbench?.close();
    await rm(folder, { recursive: true, force: true });
  });

  const statusText = (id: string) =>
    workbench.page
      .locator(`.statusbar-item[id$="blockwright.${id}"]`)
      .textContent({ timeout: 500 })
      .then((text) => text ?? '')
      .catch(() => '');
  const inView = () =>
    workbench.page.frameLocator('iframe.webview.ready').last().frameLocator('iframe#active-frame').locator('body');

  it('tells modes, position and time in the status bar, and follows the cursor', async () => {
    await workbench.openFile('frame.nc');
    await workbench.goTo(7, 1);
    const text = () => statusText('modes');
    await expect.poll(text, { timeout: 20_000 }).toBe('G1 G90 G54 T1 S3000 F100 · X50. Y0. Z-2.');
    await expect.poll(() => statusText('time'), { timeout: 20_000 }).toMatch(/1 min 5\d s/);
    await workbench.goTo(11, 1);
    await expect.poll(text, { timeout: 20_000 }).toBe('G0 G90 G54 T1 S3000 F100 · X0. Y0. Z50.');
  });

  it('colours words by what they mean', async () => {
    await workbench.goTo(7, 1);
    const classes = (line: string) =>
      workbench.page
        .locator('.monaco-editor .view-line', { hasText: line })
        .first()
        .locator('span > span')
        .evaluateAll((spans) => spans.map((span) => span.className));
    // The grammar has a colour for the letter and one for the number; by its meaning the word is one.
    await expect.poll(async () => new Set(await classes('X50.')).size, { timeout: 20_000 }).toBe(1);
    expect((await classes('Z-2.')).at(-1)).not.toBe((await classes('X50.'))[0]);
  });

  it('explains the block at the cursor beside the program, and what it inherits', async () => {
    await workbench.goTo(7, 1);
    await workbench.runCommand('Blockwright: Explain this block');
    const body = () =>
      inView()
        .textContent({ timeout: 500 })
        .then((text) => text ?? '')
        .catch(() => '');
    await expect.poll(body, { timeout: 20_000 }).toContain('Straight cut: X 0 → 50');
    const words = await body();
    expect(words).toMatch(/F100\s*feed 100 mm\/min\s*line 6/);
    await workbench.goTo(8, 1);
    await expect.poll(body, { timeout: 20_000 }).toContain('Straight cut: Y 0 → 40');
    await inView().locator('a', { hasText: 'line 6' }).first().click();
    await expect.poll(body, { timeout: 20_000 }).toContain('Straight cut: Z 5 → -2');
    // Each page is loaded anew: while the cursor runs there is not one for every step.
    await workbench.goTo(6, 1);
    await expect.poll(body, { timeout: 20_000 }).toContain('Straight cut: Z 5 → -2');
    let pages = 0;
    workbench.page.on('frameattached', () => {
      pages++;
    });
    for (let step = 0; step < 41; step++) {
      await workbench.page.keyboard.press(step % 2 === 0 ? 'ArrowDown' : 'ArrowUp', { delay: 20 });
    }
    await expect.poll(body, { timeout: 20_000 }).toContain('Straight cut: X 0 → 50');
    expect(pages).toBeLessThan(25);
    expect(workbench.errors).toEqual([]);
  });

  it('lists the blocks that cut at a place and goes to the one that is taken', async () => {
    await workbench.openFile('frame.nc');
    const input = workbench.page.locator('.quick-input-widget input.input');
    // The command has an input of its own in the place of the palette, which so never goes.
    await workbench.page.keyboard.press('F1');
    await input.fill('>Blockwright: Which block cut here?');
    await workbench.page.locator('.quick-input-widget .monaco-list-row.focused', { hasText: 'Which block' }).waitFor();
    await input.press('Enter');
    await expect.poll(() => input.getAttribute('placeholder'), { timeout: 20_000 }).toBe('X10 Y20');
    await input.fill('X47 Y1');
    await workbench.page.keyboard.press('Enter');
    const rows = () => workbench.page.locator('.quick-input-list .monaco-list-row').allInnerTexts();
    await expect.poll(async () => (await rows()).length, { timeout: 20_000 }).toBe(2);
    expect((await rows())[0]).toContain('Line 7: X50.');
    await workbench.page.keyboard.press('ArrowDown');
    await workbench.page.keyboard.press('Enter');
    await expect.poll(() => statusText('modes'), { timeout: 20_000 }).toContain('X50. Y40. Z-2.');
  });

  it('dims what the program could do without', async () => {
    await workbench.openFile('again.nc');
    const dimmed = workbench.page.locator('.monaco-editor .view-line .squiggly-inline-unnecessary');
    await expect.poll(() => dimmed.allTextContents(), { timeout: 20_000 }).toEqual(['G90']);
    expect(await workbench.page.locator('.monaco-editor .squiggly-hint').count()).toBe(0);
  });

  it('leaves the status bar where no program is open', async () => {
    await workbench.openFile('notes.txt');
    await expect.poll(() => statusText('modes'), { timeout: 20_000 }).toBe('');
    expect(workbench.errors).toEqual([]);
  });
});
