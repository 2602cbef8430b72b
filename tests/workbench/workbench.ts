// Drives the real workbench as a person would: open, go to, read, fix, look.
import { cp, mkdir, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BrowserContext, Frame, Page } from 'playwright-core';
import { expect } from 'vitest';
import { serveWorkbench } from '../../client/workbench/server.ts';
import { openBrowser } from './browser.ts';

const root = new URL('../..', import.meta.url).pathname;
const screenshots = join(root, 'tests/workbench/screenshots');

/** Console errors that say nothing about this project; each with its reason. */
const harmless: readonly RegExp[] = [
  // The workbench asks the browser for storage that a headless profile does not grant.
  /Failed to persist|persistent storage/i,
  // Its own themes' media and the gallery are not served offline.
  /extensions\/gallery|Unable to resolve.*gallery/i,
];

/** One running workbench on a temporary copy of a folder of programs. */
export class Workbench {
  readonly page: Page;
  readonly folder: string;
  readonly errors: string[];
  readonly #context: BrowserContext;
  readonly #end: () => Promise<void>;

  private constructor(page: Page, folder: string, errors: string[], context: BrowserContext, end: () => Promise<void>) {
    this.page = page;
    this.folder = folder;
    this.errors = errors;
    this.#context = context;
    this.#end = end;
  }

  /** Opens the workbench on a copy of `source` (examples/ where none is given). The bundles must have been built. */
  static async open(source = join(root, 'examples'), settings: Record<string, unknown> = {}): Promise<Workbench> {
    const folder = join(await mkdtemp(join(tmpdir(), 'blockwright-')), 'programs');
    await cp(source, folder, { recursive: true });
    const served = await serveWorkbench({ root, folder, port: 0, settings });
    return Workbench.openAt(served.address, folder, async () => {
      await served.close();
      await rm(join(folder, '..'), { recursive: true, force: true });
    });
  }

  /** Opens a workbench that somebody else serves on `folder`; `end` is called when it is closed. */
  static async openAt(address: string, folder: string, end = async (): Promise<void> => {}): Promise<Workbench> {
    const context = await openBrowser();
    const errors: string[] = [];
    context.on('console', (message) => {
      const text = message.text();
      if (message.type() === 'error' && !harmless.some((pattern) => pattern.test(text))) {
        errors.push(`${text} (${message.location().url})`);
      }
    });
    context.on('weberror', (error) => errors.push(String(error.error())));
    const page = context.pages()[0] ?? (await context.newPage());
    await page.goto(address);
    await page.locator('.monaco-workbench .explorer-folders-view .monaco-list-row').first().waitFor();
    return new Workbench(page, folder, errors, context, end);
  }

  /** Ends browser and server and removes the copy. */
  async close(): Promise<void> {
    await this.#context.close();
    await this.#end();
  }

  /** Opens a file of the folder's first level in the editor, from the explorer. */
  async openFile(name: string): Promise<void> {
    const row = this.page.locator('.explorer-folders-view .monaco-list-row').filter({ hasText: name });
    await row.first().dblclick();
    await this.page.locator(`.tab.active[data-resource-name="${name}"]`).first().waitFor();
    await this.page.locator('.editor-instance .view-line').first().waitFor();
  }

  /** Runs a command by its title as the command palette shows it. */
  async runCommand(title: string): Promise<void> {
    await this.page.keyboard.press('F1');
    await this.#pick(`>${title}`, title);
  }

  /** Puts the cursor on a place; both count from 1. Tried again where the workbench was too busy for the keys. */
  async goTo(line: number, column: number): Promise<void> {
    const place = `Ln ${line}, Col ${column}`;
    for (let tries = 3; ; tries--) {
      await this.page.keyboard.press('Control+g');
      const input = this.page.locator('.quick-input-widget input.input');
      await input.waitFor();
      await input.fill(`:${line}:${column}`);
      await input.press('Enter');
      try {
        return await this.waitForText('.statusbar', place, tries > 1 ? 8_000 : 30_000);
      } catch (error) {
        if (tries === 1) throw error;
        await this.page.keyboard.press('Escape');
      }
    }
  }

  /** Waits until an element that matches holds the text. */
  async waitForText(selector: string, text: string | RegExp, timeout = 30_000): Promise<void> {
    await this.page.locator(selector).filter({ hasText: text }).first().waitFor({ timeout });
  }

  /** The text that the hover at the cursor shows. */
  async hoverText(): Promise<string> {
    await this.page.keyboard.press('Control+k');
    await this.page.keyboard.press('Control+i');
    const hover = this.page.locator('.monaco-hover:not(.hidden) .monaco-hover-content').first();
    await hover.waitFor();
    await this.page.locator('.monaco-hover:not(.hidden) .hover-row').first().waitFor();
    const text = (await hover.textContent()) ?? '';
    await this.page.keyboard.press('Escape');
    return text;
  }

  /** The rows of the Problems view, as a person reads them (file rows included). */
  async problems(): Promise<string[]> {
    const panel = this.page.locator('.markers-panel');
    if (!(await panel.isVisible())) {
      await this.page.keyboard.press('Control+Shift+m');
      await panel.waitFor();
    }
    return panel.locator('.monaco-list-row').allTextContents();
  }

  /** Waits until the rows of the Problems view satisfy the condition; throws with what they were. */
  async waitForProblems(condition: (rows: string[]) => boolean, timeout = 30_000): Promise<string[]> {
    const end = Date.now() + timeout;
    for (;;) {
      const rows = await this.problems();
      if (condition(rows)) {
        return rows;
      }
      if (Date.now() > end) {
        throw new Error(`The Problems view shows: ${JSON.stringify(rows)}`);
      }
      await this.page.waitForTimeout(100);
    }
  }

  /** Where squiggles of a kind stand, in CSS pixels of the page. */
  async squiggles(kind: 'error' | 'warning' | 'hint'): Promise<{ x: number; y: number; width: number }[]> {
    const marks = await this.page.locator(`.editor-instance .squiggly-${kind}`).all();
    const boxes = await Promise.all(marks.map((mark) => mark.boundingBox()));
    return boxes.filter((box) => box !== null).map(({ x, y, width }) => ({ x, y, width }));
  }

  /** Takes the first quick fix at the cursor whose title holds the text; the menu is asked for until it has one. */
  async takeFix(title: string, timeout = 20_000): Promise<void> {
    const end = Date.now() + timeout;
    const menu = this.page.locator('.action-widget');
    for (;;) {
      await this.page.keyboard.press('Control+.');
      const shown = await menu
        .filter({ hasText: title })
        .waitFor({ timeout: 1_000 })
        .then(
          () => true,
          () => false,
        );
      if (shown) {
        break;
      }
      if (Date.now() > end) {
        const offered = (await menu.isVisible()) ? await menu.textContent() : 'nothing';
        throw new Error(`No fix "${title}" here; offered: ${offered}`);
      }
      await this.page.keyboard.press('Escape');
    }
    await this.takeAction(title);
  }

  /** Takes the row of the open menu of fixes or actions whose title holds the text. */
  async takeAction(title: string): Promise<void> {
    const menu = this.page.locator('.action-widget');
    await this.#moveTo(menu, title);
    await this.page.keyboard.press('Enter');
    await menu.waitFor({ state: 'hidden' });
  }

  /** Rows of the fix menu cannot be clicked: the arrow key goes down until the wanted one is lit. */
  async #moveTo(menu: ReturnType<Page['locator']>, title: string): Promise<void> {
    const lit = menu.locator('.monaco-list-row.focused');
    for (let step = 0; step < 20; step++) {
      if ((await lit.count()) > 0 && (await lit.first().textContent())?.includes(title)) {
        return;
      }
      await this.page.keyboard.press('ArrowDown');
    }
    throw new Error(`The fix "${title}" cannot be reached in the menu`);
  }

  /** The text of the line, as the editor shows it (non-breaking spaces made plain). */
  async lineText(line: number): Promise<string> {
    await this.goTo(line, 1);
    const shown = this.page.locator('.editor-instance .view-lines .view-line');
    const number = this.page.locator('.editor-instance .margin-view-overlays .line-numbers', {
      hasText: new RegExp(`^${line}$`),
    });
    const top = (await number.first().boundingBox())?.y ?? Number.NaN;
    for (const row of await shown.all()) {
      if (Math.abs(((await row.boundingBox())?.y ?? 0) - top) < 2) {
        return ((await row.textContent()) ?? '').replaceAll('\u00a0', ' ').replace(/\n$/, '');
      }
    }
    throw new Error(`line ${line} is not on the screen`);
  }

  /** Saves the file in the active editor. */
  async save(): Promise<void> {
    await this.page.keyboard.press('Control+s');
    await this.page.locator('.tab.active:not(.dirty)').waitFor();
  }

  /** What a file of the folder holds on disk. */
  onDisk(name: string): Promise<string> {
    return readFile(join(this.folder, name), 'utf8');
  }

  /** Opens the path view beside the program and gives its inner frame. */
  async openPath(): Promise<Frame> {
    await this.runCommand('Blockwright: Show path');
    const outer = await this.page.locator('iframe.webview.ready').first().elementHandle({ timeout: 30_000 });
    const outerFrame = await outer?.contentFrame();
    const inner = await outerFrame?.waitForSelector('iframe#active-frame', { state: 'attached' });
    const frame = await inner?.contentFrame();
    if (!frame) {
      throw new Error('The path view has no frame');
    }
    await frame.waitForSelector('canvas');
    return frame;
  }

  /** Opens the page of a rule by the link behind its code in the Problems view; gives the page's text. */
  async openRulePage(rule: string): Promise<string> {
    await this.problems();
    await this.page
      .locator('.markers-panel .monaco-list-row a', { hasText: rule })
      .first()
      .click({ modifiers: ['Control'] });
    await this.page.locator(`.tab.active[aria-label*="${rule}"]`).waitFor();
    const inner = this.page.frameLocator('iframe.webview.ready').first().frameLocator('iframe#active-frame');
    const body = inner.locator('body.vscode-body', { hasText: /\w/ });
    await body.waitFor();
    return (await body.textContent()) ?? '';
  }

  /** Closes the active tab. */
  async closeTab(): Promise<void> {
    const tabs = this.page.locator('.tab');
    const before = await tabs.count();
    await this.page.locator('.tab.active .tab-actions .codicon-close').click();
    await expect.poll(() => tabs.count()).toBe(before - 1);
  }

  /** Saves what is on the screen under tests/workbench/screenshots. */
  async screenshot(name: string): Promise<string> {
    await mkdir(screenshots, { recursive: true });
    const path = join(screenshots, `${name}.png`);
    await this.page.screenshot({ path });
    return path;
  }

  async #pick(typed: string, row: string): Promise<void> {
    const input = this.page.locator('.quick-input-widget input.input');
    await input.waitFor();
    await input.fill(typed);
    await this.page.locator('.quick-input-widget .monaco-list-row.focused').filter({ hasText: row }).waitFor();
    await input.press('Enter');
    // What was picked may ask something itself, in the same place.
    const isTaken = async (): Promise<boolean> => {
      const [box] = await input.all();
      return !(await box?.isVisible()) || (await box?.inputValue({ timeout: 1_000 }).catch(() => '')) !== typed;
    };
    for (const end = Date.now() + 30_000; !(await isTaken()); await this.page.waitForTimeout(50)) {
      if (Date.now() > end) throw new Error(`"${row}" was picked and is still there`);
    }
  }
}
