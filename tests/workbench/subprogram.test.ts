// Subprograms in other files, and loops that run long, in the real workbench in a browser.
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Workbench } from './workbench.ts';

const head = 'G17 G21 G40 G49 G80 G90 G54\nT1 M6\nS1000 M3\nG0 X0. Y0.\nG43 H1 Z5.\n';
const programs = {
  'main.nc': `O1 (MAIN)\n${head}M98 P1000\nG0 Z50.\nM30\n`,
  'holes.nc': 'O1000 (A STEP)\nG1 X11. F100\nG3 X12. Y0. I0. J3.\nG0 X0.\nM99\n',
  'long.nc': `O2 (LONG)\n${head}#1=0\nWHILE [#1 GE 0] DO1\n#1=#1+1\nEND1\nG0 Z50.\nM30\n`,
  'blockwright.json': '{ "limits": { "seconds": 12, "steps": 1000000000 } }',
};

describe('a program that calls a file beside it', () => {
  let folder: string;
  let workbench: Workbench;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'blockwright-sub-'));
    for (const [name, content] of Object.entries(programs)) await writeFile(join(folder, name), content);
    workbench = await Workbench.open(folder);
  });

  afterAll(async () => {
    await workbench?.close();
    await rm(folder, { recursive: true, force: true });
  });

  const atCall = (row: string): boolean => row.includes('arc-radius-mismatch') && row.includes('Ln 7');

  it('shows at the call what is wrong in the file', async () => {
    await workbench.openFile('main.nc');
    const rows = await workbench.waitForProblems((all) => all.some(atCall));
    expect(rows.filter((row) => row.includes('subprogram-missing'))).toEqual([]);
  });

  it('follows the file as it is edited, before it is saved', async () => {
    await workbench.openFile('holes.nc');
    await workbench.goTo(3, 15);
    await workbench.page.keyboard.press('Shift+End');
    await workbench.page.keyboard.type('R0.5');
    await workbench.waitForProblems((all) => !all.some(atCall));
    await workbench.openFile('holes.nc');
    for (let i = 0; i < 4; i++) await workbench.page.keyboard.press('Control+z');
    await workbench.waitForProblems((all) => all.some(atCall));
    expect(await workbench.onDisk('holes.nc')).toBe(programs['holes.nc']);
  });

  it('answers for one program while another counts on and on', async () => {
    await workbench.openFile('long.nc');
    await workbench.page.waitForTimeout(1000);
    await workbench.openFile('main.nc');
    await workbench.goTo(5, 2);
    expect(await workbench.hoverText()).toContain('G0');
    const counted = (row: string): boolean => row.includes('endless-loop');
    expect((await workbench.problems()).filter(counted)).toEqual([]);
    await workbench.waitForProblems((all) => all.some(counted), 60_000);
    expect(workbench.errors).toEqual([]);
  });
});
