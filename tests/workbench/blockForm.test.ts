// The form of a block in the real workbench, by keyboard alone: opened by a typed prefix, filled in, inserted, undone, revised.
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Frame } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Workbench } from './workbench.ts';

const PLATE = `%
O1
G17 G21 G40 G49 G80 G90 G54
T1 M6 (END MILL D10)
S4000 M3
G0 G43 H1 X5. Y5. Z30.
G1 Z-1. F300.
X60.
Y40.
G0 Z30.

M30
%
`;
const EMPTY_LINE = 11;
/** The same with other tools in the spindle; nothing is cut before the block. */
const withTool = (tool: string, speed: number): string =>
  PLATE.replace('END MILL D10', tool)
    .replace('S4000', `S${speed}`)
    .replace(/G1 Z-1[\s\S]*Z30\.\n\n/, '\n');
const OTHERS = { 'tap.nc': withTool('TAP M6', 600), 'broken.nc': withTool('END MILL D3 CARBIDE', 4500) };
const OTHERS_EMPTY_LINE = 7;

/** What is used of the page's own globals; the tests have no types for a page. */
interface PageGlobals {
  readonly axe: {
    run(
      root: unknown,
      options: unknown,
    ): Promise<{ violations: { id: string; nodes: { html: string }[] }[]; passes: unknown[] }>;
  };
  readonly document: {
    readonly activeElement: {
      closest(selector: string): { readonly dataset: { readonly name?: string } } | null;
    } | null;
  };
}

/** The frames of the page that hold something. */
async function framesWith(workbench: Workbench, selector: string): Promise<Frame[]> {
  const frames: Frame[] = [];
  for (const frame of workbench.page.frames()) {
    if (
      (await frame
        .locator(selector)
        .count()
        .catch(() => 0)) > 0
    )
      frames.push(frame);
  }
  return frames;
}

describe('the form of a block', () => {
  let folder: string;
  let workbench: Workbench;
  let form: Frame;

  const press = async (...keys: string[]): Promise<void> => {
    for (const key of keys) await workbench.page.keyboard.press(key);
  };
  // As fast as a quick typist; the list of completions comes with the letters.
  const type = (letters: string): Promise<void> => workbench.page.keyboard.type(letters, { delay: 60 });

  /** Waits until a form is open and its first result has come; gives its frame. */
  const opened = async (): Promise<Frame> => {
    await expect
      .poll(async () => (await framesWith(workbench, '#form .status:not(:empty)')).length, { timeout: 30_000 })
      .toBe(1);
    const [frame] = await framesWith(workbench, '#form .status:not(:empty)');
    return frame!;
  };
  const status = (): Promise<string | null> => form.locator('.status').textContent();
  const ghost = async (): Promise<string> => {
    const [path] = await framesWith(workbench, '#path');
    return (await path?.locator('.ghost').textContent()) ?? '';
  };
  const groups = (): Promise<number> => workbench.page.locator('.editor-group-container').count();
  /** Waits until the form has gone with all that it opened, and the program has the keyboard again. */
  const closed = async (): Promise<void> => {
    await expect.poll(groups, { timeout: 10_000 }).toBe(1);
    await workbench.page
      .locator('.editor-instance .inputarea:focus, .editor-instance .native-edit-context:focus')
      .waitFor();
  };

  /** Goes to a field with the Tab key. */
  const goTo = async (name: string): Promise<void> => {
    for (let step = 0; step < 60; step++) {
      const at = await form.evaluate(
        () => (globalThis as unknown as PageGlobals).document.activeElement?.closest('.field')?.dataset.name,
      );
      if (at === name) return;
      await press('Tab');
    }
    throw new Error(`The field ${name} cannot be reached with the Tab key`);
  };
  const fill = async (name: string, value: string): Promise<void> => {
    await goTo(name);
    await press('Control+a');
    await type(value);
  };
  /** Saves the program that was changed. */
  const save = async (): Promise<void> => {
    await workbench.page.locator('.tab.active.dirty').waitFor();
    await workbench.save();
  };
  const text = (name = 'plate.nc'): Promise<string> => workbench.onDisk(name);
  const becomes = async (expected: string): Promise<void> => {
    await save();
    await expect.poll(() => text()).toBe(expected);
  };
  const setTheme = async (name: string, bodyClass: string): Promise<void> => {
    await press('Control+k', 'Control+t');
    const list = workbench.page.locator('.quick-input-widget');
    await list.locator('.monaco-list-row', { hasText: 'Light Modern' }).first().waitFor();
    await list.locator('input.input').fill(name);
    await list.locator('.monaco-list-row.focused', { hasText: name }).waitFor();
    await press('Enter');
    await form.locator(`body.${bodyClass}`).waitFor();
  };
  /** What axe-core has to say about the form. */
  const faults = async (): Promise<string[]> => {
    const found = await form.evaluate(async () => {
      const { axe, document } = globalThis as unknown as PageGlobals;
      const { violations, passes } = await axe.run(document, { preload: false });
      return {
        passes: passes.length,
        faults: violations.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html}`)),
      };
    });
    expect(found.passes).toBeGreaterThan(10);
    return found.faults;
  };
  const comesToHold = async (expected: string | RegExp, name?: string): Promise<void> => {
    await save();
    await expect.poll(() => text(name)).toMatch(expected);
  };

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'blockwright-form-'));
    for (const [name, program] of Object.entries({ 'plate.nc': PLATE, ...OTHERS })) {
      await writeFile(join(folder, name), program);
    }
    // Saved by hand: what is undone while the workbench saves by itself stays unsaved now and then.
    workbench = await Workbench.open(folder, { 'files.autoSave': 'off' });
    await workbench.openFile('plate.nc');
    await workbench.goTo(EMPTY_LINE, 1);
    // The server is there once the cursor's place in the outline is told.
    await workbench.waitForText('.monaco-breadcrumbs', 'END MILL');
  });

  afterAll(async () => {
    await workbench?.close();
    await rm(folder, { recursive: true, force: true });
  });

  it('opens by a typed prefix with what the program gives, computes while it is typed, and draws the block', async () => {
    await workbench.goTo(EMPTY_LINE, 1);
    await type('helical');
    await workbench.waitForText('.suggest-widget .monaco-list-row.focused', 'Helical bore');
    await press('Enter');
    form = await opened();
    expect(await status()).toBe('Still needed: Bore, Depth.');
    expect(await form.locator('[data-name="tool"] input').inputValue()).toBe('10');
    expect(await form.locator('[data-name="tool"] .note').textContent()).toBe('from the tool’s remark');
    // Teeth and length of the flutes are asked for; how many teeth are counted with stands in the empty field.
    expect(await form.locator('[data-name="cutting-length"] input').count()).toBe(1);
    expect(await ghost()).toBe('');
    await type('18');
    await press('Tab');
    await type('6');
    await expect.poll(status).toMatch(/^\d+ lines at line 11 of plate\.nc\.$/);
    expect(await form.locator('.block').textContent()).toContain(
      'BLOCKWRIGHT-BLOCK HELICAL-BORE BORE=18 DEPTH=6 TOOL=10',
    );
    await expect.poll(ghost).toContain('not in the program yet');
    expect(await form.locator('[data-name="flutes"] input').getAttribute('placeholder')).toBe('4');
    await workbench.screenshot('block-form-1-helical');
  });

  it('tells a mistake at its field, and writes nothing', async () => {
    await fill('bore', '8');
    await expect.poll(() => form.locator('.wrong[data-name="tool"] .note').textContent()).toContain('does not fit');
    await press('Enter');
    await expect.poll(() => form.locator('[data-name="tool"] input:focus').count()).toBe(1);
    await expect.poll(ghost).toBe('');
  });

  it('tells a speed beyond sense at its field and beside the button, and axe-core finds nothing', async () => {
    const values = { bore: '18', material: 'steel', speed: '60000' };
    for (const [name, value] of Object.entries(values)) {
      await form.locator(`[data-name="${name}"] input[type="text"]`).fill(value);
    }
    await expect
      .poll(() => form.locator('.caution[data-name="speed"] .note').textContent())
      .toMatch(/^Caution: .*60000/);
    await expect.poll(status).toMatch(/lines at line 11 of plate\.nc\. Caution at: Speed/);
    await form.evaluate(await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8'));
    expect(await faults()).toEqual([]);
    await workbench.screenshot('block-form-5-speed');
  });

  it('has words strong enough to be read in every theme, by axe-core', async () => {
    const themes = [
      ['Dark Modern', 'vscode-dark'],
      ['Dark High Contrast', 'vscode-high-contrast'],
      ['Light High Contrast', 'vscode-high-contrast-light'],
    ] as const;
    // A mistake at its field as well as the caution.
    await form.locator('[data-name="depth"] input').fill('x');
    await expect.poll(() => form.locator('.wrong[data-name="depth"]').count()).toBe(1);
    for (const [name, bodyClass] of themes) {
      await setTheme(name, bodyClass);
      expect(await faults(), name).toEqual([]);
      if (name.startsWith('Dark M')) await workbench.screenshot('block-form-7-dark');
    }
    await setTheme('Light Modern', 'vscode-light');
    await form.locator('[data-name="bore"] input').focus();
  });

  it('leaves nothing behind by Escape', async () => {
    await press('Escape');
    await closed();
    await becomes(PLATE);
  });

  it('inserts the block in place of the empty line, in one step to undo', async () => {
    /** Opens the form from the menu of the empty line and the list of blocks. */
    const choose = async (): Promise<void> => {
      await workbench.goTo(EMPTY_LINE, 1);
      await workbench.takeFix('Insert a block…');
      await workbench.waitForText('.quick-input-title', 'Insert a block');
      await type('helical bore');
      await press('Enter');
      form = await opened();
    };
    await choose();
    await type('18');
    await press('Tab');
    await type('6');
    // The values are still under way: the form waits for them.
    await press('Enter');
    await closed();
    await comesToHold(
      /G0 Z30\.\n\( BLOCKWRIGHT-BLOCK HELICAL-BORE BORE=18 DEPTH=6 TOOL=10 .*\n[\s\S]*\( BLOCKWRIGHT-END HELICAL-BORE .*\nM30\n%\n$/,
    );
    const inserted = await text();
    await press('Control+z');
    await becomes(PLATE);
    // Once more, with the values of last time.
    await choose();
    await press('Enter');
    await closed();
    await becomes(inserted);
  });

  it('revises the block to another diameter, and only the block', async () => {
    await workbench.goTo(EMPTY_LINE + 1, 1);
    await workbench.takeFix('Revise this helical bore');
    form = await opened();
    await fill('bore', '19');
    await expect.poll(() => form.locator('.block .comes').first().textContent()).toContain('BORE=19');
    await expect.poll(status).toContain('in place of lines 11 to');
    await expect.poll(ghost).toContain('The old one is left out here');
    // Time and cautions stay before what changes, beside it or above it.
    const top = async (part: string): Promise<number> =>
      (await form.locator(`.outcome ${part}`).boundingBox())?.y ?? Number.NaN;
    for (const width of [1000, 1700]) {
      await workbench.page.setViewportSize({ width, height: 900 });
      await expect.poll(async () => (await top('.said')) - (await top('.written'))).toBeLessThanOrEqual(0);
      expect(await form.locator('.said').textContent()).toMatch(/Time at feed.*PROVE IN THE AIR/);
    }
    await workbench.page.setViewportSize({ width: 1400, height: 900 });
    await workbench.screenshot('block-form-6-revised');
    await press('Enter');
    await closed();
    await comesToHold('HELICAL-BORE BORE=19 DEPTH=6 TOOL=10');
    const revised = await text();
    expect(revised.startsWith(PLATE.slice(0, PLATE.indexOf('\n\n') + 1))).toBe(true);
    expect(revised.endsWith('\nM30\n%\n')).toBe(true);
    expect(revised.match(/BLOCKWRIGHT-BLOCK/g)).toHaveLength(1);
  });

  it('shows what a hand changed before it is lost, and asks once more', async () => {
    await workbench.goTo(EMPTY_LINE + 6, 1);
    await type('(BY HAND) ');
    await comesToHold('BY HAND');
    await workbench.goTo(EMPTY_LINE, 1);
    await workbench.takeFix('Revise this helical bore');
    form = await opened();
    await expect.poll(status).toContain('Changed by hand');
    await expect
      .poll(() => form.locator('.block .goes').allTextContents())
      .toContainEqual(expect.stringContaining('BY HAND'));
    await press('Enter');
    await expect.poll(() => form.locator('button.primary:focus').textContent()).toContain('Replace all the same');
    expect(await groups()).toBe(3);
    await workbench.screenshot('block-form-2-edited');
    await press('Enter');
    await closed();
    await comesToHold(/^(?![\s\S]*BY HAND)/);
  });

  it('has its last values the next time, not those that the program gives', async () => {
    await workbench.goTo(EMPTY_LINE - 1, 1);
    await press('End', 'Enter');
    await type('helical');
    await workbench.waitForText('.suggest-widget .monaco-list-row.focused', 'Helical bore');
    await press('Enter');
    form = await opened();
    expect(await form.locator('[data-name="bore"] input').inputValue()).toBe('18');
    expect(await form.locator('[data-name="bore"] .note').textContent()).toBe('as last time');
    expect(await form.locator('[data-name="tool"] .note').textContent()).toBe('from the tool’s remark');
    await press('Escape');
    await closed();
  });

  it('taps a bolt circle of six with a self-reversing head', async () => {
    await workbench.openFile('tap.nc');
    await workbench.goTo(OTHERS_EMPTY_LINE, 1);
    await type('holes');
    await workbench.waitForText('.suggest-widget .monaco-list-row.focused', 'Holes');
    await press('Enter');
    form = await opened();
    // Not drilled but tapped: the second and the last of the seven operations.
    await goTo('operations');
    await press('Tab', 'Space', 'Tab', 'Tab', 'Tab', 'Tab', 'Tab', 'Space');
    await expect.poll(() => form.locator('.wrong[data-name="operations"]').count()).toBe(0);
    const patternAt = await form.locator('[data-name="pattern"]').boundingBox();
    await goTo('pattern');
    await type('Ci');
    const values = { at: '40,30', count: '6', radius: '25', 'tap.thread': 'M6', 'tap.depth': '12' };
    for (const [name, value] of Object.entries(values)) await fill(name, value);
    await goTo('tap.holder');
    await type('Self');
    await expect.poll(status).toBe('Still needed: Ratio back, Self-feed.');
    for (const [name, value] of Object.entries({ 'tap.ratio': '1.75', 'tap.self-feed': '1.5', 'tap.free-up': '3' })) {
      await fill(name, value);
    }
    await expect.poll(status).toMatch(/lines at line 7 of tap\.nc\.$/);
    expect(await form.locator('.caution[data-name="tap.free-up"]').count()).toBe(0);
    // Fields that have come since then have not moved it.
    const now = await form.locator('[data-name="pattern"]').boundingBox();
    expect([now?.x, now?.y]).toEqual([patternAt?.x, patternAt?.y]);
    expect(await form.locator('[data-name="radius"] .note').textContent()).toBe('Ø 50 mm');
    expect(await form.locator('[data-name="tap.speed"] input').getAttribute('placeholder')).toBe('600');
    await workbench.screenshot('block-form-3-bolt-circle');
    await press('Enter');
    await closed();
    await comesToHold('BLOCKWRIGHT-END HOLES', 'tap.nc');
    const tapped = await text('tap.nc');
    // In at n·P = 600, out 1.75 times as fast; the head feeds the last 1.5 of 12 + 3 threads of lead by itself.
    expect(tapped.match(/G1 Z-13\.5 F600\n/g)).toHaveLength(6);
    expect(tapped.match(/G1 Z7\.5 F1050\n/g)).toHaveLength(6);
    expect(tapped).toContain('G0 X52.5 Y51.651\n');
  });

  it('clears a broken M6 tap in stages, with its cautions', async () => {
    await workbench.openFile('broken.nc');
    await workbench.goTo(OTHERS_EMPTY_LINE, 1);
    await type('cleartap');
    await workbench.waitForText('.suggest-widget .monaco-list-row.focused', 'Clear a broken tap');
    await press('Enter');
    form = await opened();
    const values = { thread: 'M6', 'broken-at': '4', length: '8', stage: '2', at: '60,40' };
    for (const [name, value] of Object.entries(values)) await fill(name, value);
    await expect
      .poll(() => form.locator('.remarks .caution').allTextContents())
      .toContainEqual(expect.stringContaining('EYES'));
    await expect.poll(status).toContain('of broken.nc.');
    // Time and cautions are in sight: nothing of them is below the edge, nor in a box that scrolls.
    await expect.poll(() => form.locator('.time').textContent()).toMatch(/^Time at feed: \d+ min/);
    const bottom = (box: { y: number; height: number } | null): number => (box?.y ?? Number.NaN) + (box?.height ?? 0);
    const edge = bottom(await form.locator('.outcome').boundingBox());
    expect(bottom(await form.locator('.remarks').boundingBox())).toBeLessThan(edge);
    await workbench.screenshot('block-form-4-broken-tap');
    await press('Enter');
    await closed();
    await comesToHold(/STAGE 4 OF 4[\s\S]*BLOCKWRIGHT-END CLEAR-TAP/, 'broken.nc');
    expect(await text('broken.nc')).toMatch(/EYES[\s\S]*STAGE 1 OF 4/);
  });

  it('no console said an error', () => {
    expect(workbench.errors).toEqual([]);
  });
});
