// What the editor knows of a program, asked for by keys and menus as a person does, in the real workbench in a browser.
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Workbench } from './workbench.ts';

const PROGRAM = `%
O1000 (TRIAL PLATE)
G17 G21 G40 G49 G80 G90 G54
#100=12.5
T1 M6 (DRILL D5)
S3000 M3
G0 X0. Y0.
G43 H1 Z50.
G99 G81 X#100 Y10. Z-12. R2. F150
X30.
X45.
G80
G0 Z50.
M98 P2000
M98 P3000
T2 M6 (END MILL D8)
S4000 M3
G0 X-10. Y-10.
G43 H2 Z5.
G1 Z-2. F200
X50. F400
Y40.
G91
G1 X-5.
G90
G0 Z50.
M30
O2000
G0 X5. Y5.
M99
%
`;
const OTHER = '%\nO3000 (OTHER FILE)\nG0 X7. Y7.\nM99\n%\n';
const UNTIDY = '%\nO4000\ng21g90g17g94\nS1000M3\ng0x1.y2.\nm30\n%\n';
const INCH = 'G0 X1. Y1.\nG1 Z-.25 F10.\n';
const LOOSE = '%\nO5000\nG21 G90 G17 G94\nS1000 M3\nG0 Z5.\nM30\n%\n';

const lineOf = (text: string): number => PROGRAM.split('\n').findIndex((line) => line.startsWith(text)) + 1;

describe('the editor knows the program', () => {
  let folder: string;
  let workbench: Workbench;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'blockwright-editor-'));
    await writeFile(join(folder, 'plate.nc'), PROGRAM);
    await writeFile(join(folder, 'O3000.nc'), OTHER);
    await writeFile(join(folder, 'untidy.nc'), UNTIDY);
    await writeFile(join(folder, 'loose.nc'), LOOSE);
    await writeFile(join(folder, 'inch.nc'), INCH);
    workbench = await Workbench.open(folder);
    await workbench.openFile('plate.nc');
  });

  afterAll(async () => {
    await workbench?.close();
    await rm(folder, { recursive: true, force: true });
  });

  const press = (keys: string) => workbench.page.keyboard.press(keys);
  const texts = (selector: string) => workbench.page.locator(selector).allTextContents();
  const shown = async (selector: string) => (await texts(selector)).join('\n').replaceAll('\u00a0', ' ');
  /** Does what opens something until it is there: a busy workbench may miss a key. */
  const until = async (act: () => Promise<unknown>, selector: string, text: string | RegExp): Promise<void> => {
    for (let tries = 3; ; tries--) {
      await act();
      try {
        return await workbench.waitForText(selector, text, 10_000);
      } catch (error) {
        if (tries === 1) {
          await workbench.screenshot('editor-missing');
          throw error;
        }
        await press('Escape');
      }
    }
  };

  it('shows what stands between and above the words', async () => {
    await workbench.goTo(lineOf('G1 X-5.'), 1);
    await expect.poll(() => shown('.editor-instance .view-lines')).toMatch(/X-5\.\W*→ 45/);
    await expect.poll(() => shown('.editor-instance .codelens-decoration')).toMatch(/to Z-2/);
    await workbench.goTo(1, 1);
    await expect.poll(() => shown('.editor-instance .codelens-decoration')).toMatch(/to Z-12/);
    await workbench.screenshot('editor-hints');
  });

  it('goes to where a program begins, and to what a move is made of', async () => {
    await workbench.goTo(lineOf('M98 P2000'), 7);
    await until(() => press('F12'), '.statusbar', `Ln ${lineOf('O2000')},`);
    await workbench.goTo(lineOf('Y40.'), 1);
    await until(() => press('F12'), '.peekview-widget', 'F400');
    const rows = await shown('.peekview-widget .monaco-list-row');
    for (const word of ['F400', 'S4000', 'G17', 'G54', 'T2 M6']) expect(rows).toContain(word);
    await workbench.screenshot('editor-definition');
    await press('Escape');
  });

  it('finds and marks all uses of a variable, and renames it', async () => {
    await workbench.goTo(lineOf('#100'), 2);
    await expect
      .poll(() =>
        workbench.page
          .locator(
            '.editor-instance .wordHighlightStrong, .editor-instance .wordHighlight, .editor-instance .wordHighlightText',
          )
          .count(),
      )
      .toBe(2);
    // Of two places, the one where the cursor stands not is gone to.
    await until(() => press('Shift+F12'), '.statusbar', `Ln ${lineOf('G99')}, Col `);
    await workbench.goTo(lineOf('#100'), 2);
    const input = workbench.page.locator('.rename-box input');
    await press('F2');
    await input.waitFor();
    await input.fill('#120');
    await press('Enter');
    const saved = async () => {
      await workbench.save();
      return workbench.onDisk('plate.nc');
    };
    await expect.poll(saved).toBe(PROGRAM.replaceAll('#100', '#120'));
  });

  it('lists tools and what they do, and the programs of the folder', async () => {
    await until(() => press('Control+Shift+o'), '.quick-input-list', /3 holes Ø5 to Z-12/);
    expect(await shown('.quick-input-list')).toContain('T2 END MILL D8');
    await workbench.screenshot('editor-outline');
    await press('Escape');
    await until(
      async () => {
        await press('Control+t');
        await workbench.page.locator('.quick-input-widget input.input').fill('#3000');
      },
      '.quick-input-list',
      'O3000',
    );
    await press('Escape');
  });

  it('links to a called file, and shows who calls whom', async () => {
    await workbench.goTo(lineOf('M98 P3000'), 1);
    await expect.poll(() => shown('.editor-instance .detected-link')).toContain('3000');
    await workbench.goTo(lineOf('O2000'), 2);
    await until(() => workbench.runCommand('Peek Call Hierarchy'), '.peekview-widget', 'O1000');
    await press('Escape');
  });

  it('folds a tool, and grows a selection from the word to the block', async () => {
    const line = lineOf('S4000');
    await workbench.goTo(line, 2);
    await press('Shift+Alt+ArrowRight');
    await workbench.waitForText('.statusbar', '(5 selected)');
    await press('Shift+Alt+ArrowRight');
    await workbench.waitForText('.statusbar', '(8 selected)');
    await workbench.goTo(line, 1);
    await press('Control+Shift+BracketLeft');
    await expect.poll(() => shown('.editor-instance .view-lines')).not.toContain('S4000 M3');
    await workbench.goTo(line, 1);
  });

  it('formats, and numbers blocks', async () => {
    await workbench.openFile('untidy.nc');
    await workbench.runCommand('Format Document');
    const tidy = UNTIDY.replace('g21g90g17g94', 'G21 G90 G17 G94')
      .replace('S1000M3', 'S1000 M3')
      .replace('g0x1.y2.', 'G0 X1. Y2.')
      .replace('m30', 'M30');
    await expect
      .poll(async () => {
        await workbench.save();
        return workbench.onDisk('untidy.nc');
      })
      .toBe(tidy);
    await until(() => workbench.runCommand('Source Action...'), '.action-widget', 'Add sequence numbers by 10');
    await workbench.screenshot('editor-source-actions');
    await workbench.takeAction('Add sequence numbers by 10');
    await workbench.save();
    await expect.poll(() => workbench.onDisk('untidy.nc')).toContain('N20 S1000 M3\nN30 G0 X1. Y2.\n');
  });

  it('offers pasted lines in the unit of the program', async () => {
    await workbench.page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
    await workbench.openFile('inch.nc');
    await workbench.goTo(1, 1);
    await press('Control+a');
    await press('Control+c');
    await workbench.openFile('loose.nc');
    await workbench.goTo(6, 1);
    await press('Control+v');
    await workbench.waitForText('.statusbar', 'Ln 8, Col 1');
    await until(() => press('Control+.'), '.action-widget', 'Convert the pasted lines from inch to mm');
    await workbench.takeAction('Convert the pasted lines from inch to mm');
    await workbench.save();
    await expect.poll(() => workbench.onDisk('loose.nc')).toContain('G0 X25.4 Y25.4\nG1 Z-6.35 F254.\n');
  });

  it('shows no error in any console', () => {
    expect(workbench.errors).toEqual([]);
  });
});
