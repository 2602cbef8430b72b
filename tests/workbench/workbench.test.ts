// The real workbench loads with the extension in it: language, colours, saving.
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Workbench } from './workbench.ts';

/** What is used of the page's own globals; the tests have no types for a page. */
interface PageGlobals {
  getComputedStyle(element: unknown): { readonly color: string };
}

const program = `%
O0042 (TEST PLATE 40 X 20)
G17 G21 G40 G49 G80 G90
G1 X10. Y5. F200. (CUT)
M30
%
`;

describe('the workbench in a browser', () => {
  let source: string;
  let workbench: Workbench;

  beforeAll(async () => {
    source = await mkdtemp(join(tmpdir(), 'blockwright-source-'));
    await writeFile(join(source, 'plate.nc'), program);
    await writeFile(join(source, 'O0043'), program);
    await writeFile(join(source, 'NOTES'), 'Tool 1 wants new inserts.\n');
    workbench = await Workbench.open(source);
  });

  afterAll(async () => {
    await workbench?.close();
    await rm(source, { recursive: true, force: true });
  });

  it('knows a .nc file as a CNC program', async () => {
    await workbench.openFile('plate.nc');
    await workbench.waitForText('.statusbar', 'CNC program');
  });

  it('knows a program without an extension by its first line, and leaves other files alone', async () => {
    await workbench.openFile('NOTES');
    await workbench.waitForText('.statusbar', 'Plain Text');
    await workbench.openFile('O0043');
    await workbench.waitForText('.statusbar', 'CNC program');
    await workbench.openFile('plate.nc');
  });

  it('colours motion, axis letter and remark differently', async () => {
    const colour = (text: RegExp): Promise<string> =>
      workbench.page
        .locator('.editor-instance .view-line > span > span')
        .filter({ hasText: text })
        .first()
        .evaluate((element) => (globalThis as unknown as PageGlobals).getComputedStyle(element).color);
    const distinct = async (): Promise<number> =>
      new Set([await colour(/^G1$/), await colour(/^X$/), await colour(/CUT/)]).size;
    await expect.poll(distinct).toBe(3);
  });

  it('saves on the disk', async () => {
    await workbench.goTo(5, 1);
    await workbench.page.keyboard.type('G0 Z50.');
    await workbench.page.keyboard.press('Enter');
    await workbench.save();
    await expect.poll(() => workbench.onDisk('plate.nc')).toBe(program.replace('M30', 'G0 Z50.\nM30'));
  });

  it('puts no other number of the program behind what was typed', async () => {
    await workbench.goTo(5, 1);
    await workbench.page.keyboard.type('X1');
    // Time enough for the editor to offer the program's X10.
    await workbench.page.waitForTimeout(1_500);
    await workbench.page.keyboard.press('Enter');
    await workbench.save();
    await expect.poll(() => workbench.onDisk('plate.nc')).toContain('\nX1\nG0 Z50.\n');
  });

  it('shows no error in any console', async () => {
    await workbench.screenshot('workbench');
    expect(workbench.errors).toEqual([]);
  });
});
