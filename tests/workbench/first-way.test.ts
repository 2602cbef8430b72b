// The main job, in the real workbench: open a program, see the wrong arc, take the fix, see the path.

import type { Frame } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  type Crossing,
  crossingAt,
  drawnStrengths,
  drawsByWebGl,
  type PartPoint,
  project,
  seenStrengths,
} from './pathView.ts';
import { type ArcSlip, findArcSlip } from './slip.ts';
import { Workbench } from './workbench.ts';

const example = 'first-five-minutes.nc';
const rule = 'arc-centre-off-plane';

describe('a machinist opens the example with slips', () => {
  let workbench: Workbench;
  let slip: ArcSlip;
  let view: Frame;

  /** A point of the repaired arc at a part of its angle; `radius` may lie off it. */
  const onArc = (part: number, radius = slip.radius): PartPoint => {
    const angle = slip.startAngle + slip.sweep * part;
    return [slip.centre[0] + radius * Math.cos(angle), slip.centre[1] + radius * Math.sin(angle), slip.z];
  };

  /** Crossings of a circle about the arc's centre at five angles of the arc. */
  const crossings = (radius = slip.radius): Promise<Crossing[]> =>
    Promise.all(
      [0.2, 0.35, 0.5, 0.65, 0.8].map((part) => crossingAt(view, onArc(part, radius), onArc(part, radius * 1.05))),
    );

  beforeAll(async () => {
    workbench = await Workbench.open();
    slip = findArcSlip(await workbench.onDisk(example));
    await workbench.openFile(example);
  });

  afterAll(() => workbench?.close());

  it('sees the wrong arc in the Problems view and underlined at its K word', async () => {
    await workbench.waitForProblems((rows) => rows.some((row) => row.includes(rule)));
    await workbench.goTo(slip.line, slip.column);
    const cursor = await workbench.page.locator('.editor-instance .cursor').first().boundingBox();
    const atWord = async (): Promise<boolean> =>
      (await workbench.squiggles('error')).some(
        ({ x, y }) => Math.abs(x - cursor!.x) < 2 && y >= cursor!.y - 2 && y <= cursor!.y + cursor!.height + 4,
      );
    await expect.poll(atWord, { timeout: 10_000 }).toBe(true);
    expect(await workbench.hoverText()).toContain(rule);
    await workbench.screenshot('first-way-1-finding');
  });

  it('reads the rule’s page by the link behind its code', async () => {
    expect(await workbench.openRulePage(rule)).toMatch(/centre word/i);
    await workbench.closeTab();
  });

  it('takes the fix: the K word becomes a J word and the finding is gone', async () => {
    await workbench.goTo(slip.line, slip.column);
    await workbench.takeFix(slip.word);
    expect(await workbench.lineText(slip.line)).toBe(slip.repaired);
    await workbench.waitForProblems((rows) => rows.length > 0 && !rows.some((row) => row.includes(rule)));
    await workbench.save();
    await expect.poll(async () => (await workbench.onDisk(example)).split(/\r?\n/)[slip.line - 1]).toBe(slip.repaired);
    await workbench.screenshot('first-way-2-fixed');
  });

  it('sees the repaired arc drawn where it must be', async () => {
    await workbench.goTo(slip.line, 1);
    view = await workbench.openPath();
    expect(await drawsByWebGl(view)).toBe(true);
    const weakest = async (): Promise<number> => Math.min(...(await drawnStrengths(view, await crossings())));
    await expect.poll(weakest, { timeout: 20_000 }).toBeGreaterThan(40);
    const seen = async (): Promise<number> => Math.min(...(await seenStrengths(view, await crossings())));
    await expect.poll(seen, { timeout: 10_000 }).toBeGreaterThan(100);
    await workbench.screenshot('first-way-3-path');
    // Where the arc is not, no line is: half its radius is empty stock, once the cutter no longer stands at the lit block.
    await workbench.goTo(1, 1);
    const beside = async (): Promise<number> =>
      Math.max(...(await seenStrengths(view, await crossings(slip.radius / 2))));
    await expect.poll(beside, { timeout: 10_000 }).toBeLessThan(100);
    await workbench.goTo(slip.line, 1);
    if (process.env.BLOCKWRIGHT_PICTURES) {
      await workbench.page.screenshot({ path: new URL('../../client/media/path.png', import.meta.url).pathname });
    }
  });

  it('goes to the block by a click on its path', async () => {
    await workbench.goTo(1, 1);
    const { x, y } = await project(view, onArc(0.5));
    await workbench.page.mouse.click(x, y);
    await workbench.waitForText('.statusbar', `Ln ${slip.line},`);
  });

  it('no console said an error', () => {
    expect(workbench.errors).toEqual([]);
  });
});
