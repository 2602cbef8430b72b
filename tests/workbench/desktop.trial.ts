// The main job in a host like the desktop's, with the packed extension; started by desktop.mjs, not part of `npm test`.
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Frame } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Crossing, crossingAt, drawnStrengths, drawsByWebGl, project, seenStrengths } from './pathView.ts';
import { type ArcSlip, findArcSlip } from './slip.ts';
import { Workbench } from './workbench.ts';

const example = 'first-five-minutes.nc';
const rule = 'arc-centre-off-plane';

/** Errors of the host itself, which is installed with nothing compiled or downloaded and no way to the outside. */
const hostsOwn: readonly RegExp[] = [
  /build\/Release\/watchdog/,
  /ENOTFOUND/,
  /ripgrep\/bin\/rg ENOENT/,
  /Timed out getting tasks from {2}typescript/,
];
const isOurs = (error: string): boolean => !hostsOwn.some((pattern) => pattern.test(error));

describe('the packed extension in a host like the desktop’s', () => {
  const scratch = given('BLOCKWRIGHT_DESKTOP_SCRATCH');
  let workbench: Workbench;
  let slip: ArcSlip;
  let view: Frame;

  const crossings = (): Promise<Crossing[]> => {
    const at = (part: number, radius: number): readonly [number, number, number] => {
      const angle = slip.startAngle + slip.sweep * part;
      return [slip.centre[0] + radius * Math.cos(angle), slip.centre[1] + radius * Math.sin(angle), slip.z];
    };
    return Promise.all(
      [0.2, 0.35, 0.5, 0.65, 0.8].map((part) => crossingAt(view, at(part, slip.radius), at(part, slip.radius * 1.05))),
    );
  };

  beforeAll(async () => {
    workbench = await Workbench.openAt(given('BLOCKWRIGHT_DESKTOP_ADDRESS'), join(scratch, 'programs'));
    // What the host says of itself before any program is open is not ours.
    await quiet(workbench);
    workbench.errors.length = 0;
    slip = findArcSlip(await workbench.onDisk(example));
    await workbench.openFile(example);
  });

  afterAll(async () => {
    await workbench?.screenshot('desktop-last');
    await workbench?.close();
  });

  it('knows the program and shows its findings', async () => {
    await workbench.waitForText('.statusbar', 'CNC program');
    await workbench.waitForProblems((rows) => rows.some((row) => row.includes(rule)));
    await workbench.screenshot('desktop-1-findings');
  });

  it('runs the server as a process of its own, with a pipe for the path on descriptor 3', () => {
    const server = serverProcess();
    expect(server.command).toContain(join(scratch, 'extensions'));
    expect(server.command).toMatch(/server\.node\.js --stdio --path-pipe/);
    expect(execFileSync('readlink', [`/proc/${server.pid}/fd/3`], { encoding: 'utf8' })).toMatch(/^(socket|pipe):/);
  });

  it('explains the word under the cursor', async () => {
    await workbench.goTo(slip.line, slip.column);
    expect(await workbench.hoverText()).toContain(rule);
  });

  it('opens the rule’s page by the link behind its code', async () => {
    expect(await workbench.openRulePage(rule)).toMatch(/centre word/i);
    await workbench.screenshot('desktop-2-rule-page');
    await workbench.closeTab();
  });

  it('takes the fix: the K word becomes a J word and the finding is gone', async () => {
    await workbench.goTo(slip.line, slip.column);
    await workbench.takeFix(slip.word);
    expect(await workbench.lineText(slip.line)).toBe(slip.repaired);
    await workbench.waitForProblems((rows) => rows.length > 0 && !rows.some((row) => row.includes(rule)));
    await workbench.save();
    await expect.poll(async () => (await workbench.onDisk(example)).split(/\r?\n/)[slip.line - 1]).toBe(slip.repaired);
    await workbench.screenshot('desktop-3-fixed');
  });

  it('draws the repaired arc, its bytes come over the pipe', async () => {
    await workbench.goTo(slip.line, 1);
    view = await workbench.openPath();
    expect(await drawsByWebGl(view)).toBe(true);
    const drawn = async (): Promise<number> => Math.min(...(await drawnStrengths(view, await crossings())));
    await expect.poll(drawn, { timeout: 20_000 }).toBeGreaterThan(40);
    const seen = async (): Promise<number> => Math.min(...(await seenStrengths(view, await crossings())));
    await expect.poll(seen, { timeout: 10_000 }).toBeGreaterThan(100);
    await workbench.screenshot('desktop-4-path');
  });

  it('goes to the block by a click on its path', async () => {
    await workbench.goTo(1, 1);
    const half = slip.startAngle + slip.sweep / 2;
    const { x, y } = await project(view, [
      slip.centre[0] + slip.radius * Math.cos(half),
      slip.centre[1] + slip.radius * Math.sin(half),
      slip.z,
    ]);
    await workbench.page.mouse.click(x, y);
    await workbench.waitForText('.statusbar', `Ln ${slip.line},`);
  });

  it('draws the block of a form, and leaves nothing of it behind', async () => {
    const { page } = workbench;
    const lines = (await workbench.onDisk(example)).split(/\r?\n/);
    const nextTool = lines.findIndex((text, line) => line > slip.line && /\bT\d+ M0?6\b/.test(text)) + 1;
    await workbench.goTo(nextTool, 1);
    await page.keyboard.press('F1');
    await page.keyboard.type('Blockwright: Insert block', { delay: 30 });
    await page.locator('.quick-input-widget .monaco-list-row.focused', { hasText: 'Insert block…' }).waitFor();
    await page.keyboard.press('Enter');
    await workbench.waitForText('.quick-input-title', 'Insert a block');
    await page.keyboard.type('helical bore', { delay: 30 });
    await page.keyboard.press('Enter');
    const inner = page.frameLocator('iframe.webview.ready').last().frameLocator('iframe#active-frame');
    const tool = Number(await inner.locator('[data-name="tool"] input').inputValue({ timeout: 30_000 }));
    expect(tool).toBeGreaterThan(0);
    await inner.locator('[data-name="bore"] input:focus').waitFor();
    await page.keyboard.type(String(tool * 1.6));
    await page.keyboard.press('Tab');
    await page.keyboard.type('2');
    await expect
      .poll(() => view.locator('.ghost').textContent(), { timeout: 20_000 })
      .toContain('not in the program yet');
    await workbench.screenshot('desktop-6-block-form');
    await page.keyboard.press('Escape');
    await expect.poll(() => page.locator('.editor-group-container').count()).toBe(2);
    await expect.poll(() => view.locator('.ghost').textContent()).toBe('');
    expect((await workbench.onDisk(example)).split(/\r?\n/)).toEqual(lines);
  });

  it('no console and no log of the extension host said an error', () => {
    const logs = readdirSync(scratch, { recursive: true, encoding: 'utf8' }).filter((path) =>
      path.endsWith('exthost.log'),
    );
    expect(logs.length).toBeGreaterThan(0);
    const lines = logs.flatMap((path) => readFileSync(join(scratch, path), 'utf8').split('\n'));
    expect(lines.some((line) => line.includes('_doActivateExtension blockwright.blockwright'))).toBe(true);
    expect(lines.filter((line) => /\[(error|critical)\]/.test(line)).filter(isOurs)).toEqual([]);
    expect(workbench.errors.filter(isOurs)).toEqual([]);
  });

  it('draws on after the server has died: another one is started, with another pipe', async () => {
    const before = serverProcess().pid;
    process.kill(before, 'SIGKILL');
    await expect.poll(() => serverPids().filter((pid) => pid !== before).length, { timeout: 20_000 }).toBe(1);
    await workbench.goTo(slip.line, slip.column);
    await workbench.page.keyboard.press('Delete');
    await workbench.page.keyboard.type('K');
    await workbench.waitForProblems((rows) => rows.some((row) => row.includes(rule)));
    const drawn = async (): Promise<number> => Math.min(...(await drawnStrengths(view, await crossings())));
    await expect.poll(drawn, { timeout: 20_000 }).toBeLessThan(40);
    await workbench.takeFix(slip.word);
    await expect.poll(drawn, { timeout: 20_000 }).toBeGreaterThan(40);
    await workbench.screenshot('desktop-5-after-restart');
  });

  it('leaves no server behind when the extension host dies', async () => {
    process.kill(serverProcess().parent, 'SIGKILL');
    await expect.poll(serverPids, { timeout: 10_000 }).toEqual([]);
  });
});

function given(name: string): string {
  const value = process.env[name];
  if (!value) {
    throw new Error(`${name} is not set: run this by npm run try:desktop`);
  }
  return value;
}

/** Waits until no console has said an error for three seconds. */
async function quiet(workbench: Workbench): Promise<void> {
  for (let count = -1; count !== workbench.errors.length; ) {
    count = workbench.errors.length;
    await workbench.page.waitForTimeout(3_000);
  }
}

interface ServerProcess {
  readonly pid: number;
  readonly parent: number;
  readonly command: string;
}

/** The language servers that the host has started and that still run. */
function serverProcesses(): ServerProcess[] {
  const group = Number(given('BLOCKWRIGHT_DESKTOP_PID'));
  const rows = execFileSync('ps', ['-eo', 'pid=,ppid=,pgid=,args='], { encoding: 'utf8' }).split('\n');
  return rows.flatMap((row) => {
    const [, pid, parent, its, command = ''] = /^\s*(\d+)\s+(\d+)\s+(\d+)\s+(.*)$/.exec(row) ?? [];
    const isServer = Number(its) === group && command.includes('server.node.js');
    return isServer ? [{ pid: Number(pid), parent: Number(parent), command }] : [];
  });
}

const serverPids = (): number[] => serverProcesses().map(({ pid }) => pid);

/** The one that runs; throws where there is none, or more than one. */
function serverProcess(): ServerProcess {
  const [server, ...more] = serverProcesses();
  if (!server || more.length > 0) {
    throw new Error(`${more.length + (server ? 1 : 0)} language servers run`);
  }
  return server;
}
