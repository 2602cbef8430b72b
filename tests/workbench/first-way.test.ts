// The main job, in the real workbench: open a program, see the wrong arc, take the fix, see the path.

import type { Frame } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawsByWebGl, lineStrength, project } from './pathView.ts';
import { type ArcSlip, findArcSlip } from './slip.ts';
import { Workbench } from './workbench.ts';

const example = 'first-five-minutes.nc';
const rule = 'arc-centre-off-plane';

describe('a machinist opens the example with slips', () => {
  let workbench: Workbench;
  let slip: ArcSlip;
  let view: Frame;

  /** Places on the repaired arc by its angle: the point, and one a little further out on the same ray. */
  const onArc = (part: number): { point: [number, number, number]; outward: [number, number, number] } => {
    const angle = slip.startAngle + slip.sweep * part;
    const at = (radius: number): [number, number, number] => [
      slip.centre[0] + radius * Math.cos(angle),
      slip.centre[1] + radius * Math.sin(angle),
      slip.z,
    ];
    return { point: at(slip.radius), outward: at(slip.radius * 1.05) };
  };

  /** How strongly the arc stands out at five places along it. */
  const strengths = async (): Promise<number[]> => {
    const found: number[] = [];
    for (const part of [0.2, 0.35, 0.5, 0.65, 0.8]) {
      const { point, outward } = onArc(part);
      const at = await project(view, point);
      const out = await project(view, outward);
      const length = Math.hypot(out.x - at.x, out.y - at.y);
      found.push(await lineStrength(view, at, { x: (out.x - at.x) / length, y: (out.y - at.y) / length }));
    }
    return found;
  };

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
    await expect
      .poll(async () => (await strengths()).filter((strength) => strength > 40).length, { timeout: 20_000 })
      .toBeGreaterThanOrEqual(4);
    await workbench.screenshot('first-way-3-path');
  });

  it('goes to the block by a click on its path', async () => {
    await workbench.goTo(1, 1);
    const canvas = await view.locator('canvas').first().boundingBox();
    const { x, y } = await project(view, onArc(0.5).point);
    await workbench.page.mouse.click(canvas!.x + x, canvas!.y + y);
    await workbench.waitForText('.statusbar', `Ln ${slip.line},`);
  });

  it('no console said an error', () => {
    expect(workbench.errors).toEqual([]);
  });
});
