// The shop's file in the real workbench: written from the open programs, completed, explained, underlined where it is wrong.
import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Workbench } from './workbench.ts';

const head = 'G17 G21 G40 G49 G80 G90\nG54\n';
const body = 'S3000 M3\nG0 X0. Y0.\nG43 H1 Z5.\nG1 Z-1. F100.\nG0 Z50.\nM30\n';
const programs = {
  'plate.nc': `${head}T1 M6 (8MM END MILL)\n${body}`,
  'cover.nc': `${head}T1 M6 (REAMER D10)\n${body.replace('M30', 'T5 M6 (TAP M6X1)\nM30')}`,
};
const command = 'Blockwright: Write blockwright.json from the tools of the open programs';

describe('a shop without its file', () => {
  let folder: string;
  let workbench: Workbench;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'blockwright-shop-'));
    for (const [name, content] of Object.entries(programs)) await writeFile(join(folder, name), content);
    workbench = await Workbench.open(folder);
  });

  afterAll(async () => {
    await workbench?.close();
    await rm(folder, { recursive: true, force: true });
  });

  it('writes a first one from the tools of the open programs', async () => {
    await workbench.openFile('plate.nc');
    await workbench.openFile('cover.nc');
    await workbench.runCommand(command);
    await workbench.page.locator('.tab.active[data-resource-name="blockwright.json"]').waitFor();
    await workbench.waitForText('.notifications-toasts', 'was written with 3 tools');
    expect(JSON.parse(await workbench.onDisk('blockwright.json'))).toEqual({
      version: 1,
      units: 'mm',
      tools: [
        { number: 1, kind: 'end-mill', description: '8MM END MILL', diameter: 8 },
        { number: 5, kind: 'tap', description: 'TAP M6X1', thread: 'M6X1' },
      ],
      programs: { 'cover.nc': { tools: [{ number: 1, kind: 'reamer', description: 'REAMER D10', diameter: 10 }] } },
    });
  });

  it('explains a key under the pointer', async () => {
    await workbench.goTo(5, 22);
    expect(await workbench.hoverText()).toContain('What it is.');
  });

  it('never writes over one that is there', async () => {
    const before = await workbench.onDisk('blockwright.json');
    await workbench.openFile('plate.nc');
    await workbench.runCommand(command);
    await workbench.page.locator('.tab.active[data-resource-name="blockwright.json"]').waitFor();
    await workbench.waitForText('.notifications-toasts', 'is there already');
    expect(await workbench.onDisk('blockwright.json')).toBe(before);
    expect((await readdir(workbench.folder)).sort()).toEqual(['blockwright.json', 'cover.nc', 'plate.nc']);
  });

  it('shows each mistake once at its place, by the schema or by the server', async () => {
    await workbench.goTo(1, 2);
    await workbench.page.keyboard.type('"holder": "vice", "material": "plate",');
    const rows = await workbench.waitForProblems(
      (all) => all.some((row) => row.includes('not in "materials"')) && all.some((row) => row.includes('synchronised')),
    );
    // The file's own row and one for each mistake.
    expect(rows).toHaveLength(3);
    expect(rows.filter((row) => row.includes('synchronised'))).toHaveLength(1);
    expect(workbench.errors).toEqual([]);
  });
});
