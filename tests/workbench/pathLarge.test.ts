// A program of a million moves in the real workbench: its path is drawn piece by piece, can be moved, lines are found in it,
// and an edit sends one piece.
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Frame } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { crossingAt, type PartPoint, project, seenStrengths } from './pathView.ts';
import { Workbench } from './workbench.ts';

const MOVES = 1_000_000;
/** So many of its pieces are some of them, not all. */
const EARLY = 3;
const ROW = 1_000;
const head = 'G17 G21 G40 G49 G80 G90\nG54\nT1 M6\nS9000 M3\nG0 X0. Y0.\nZ5.\nG1 Z-1. F600.\n';
const headLines = 7;
/** A field of short moves, 100 mm square, and two long moves away from it: one beside it and one above it. */
const field = Array.from({ length: MOVES }, (_, i) => {
  const [row, step] = [Math.floor(i / ROW), i % ROW];
  const x = (row % 2 === 0 ? step + 1 : ROW - 1 - step) / 10;
  return `X${x.toFixed(1)}Y${(row / 10).toFixed(1)}`;
});
const [besideLine, aboveLine] = [headLines + MOVES + 3, headLines + MOVES + 4];
const end = ['G0 Z5.', 'X130. Y0.', 'G1 Y130.', 'X0.', 'G0 Z50.', 'M30', ''];
const large = head + [...field, ...end].join('\n');
const small = `${head}X20.\nG0 Z50.\nM30\n`;

interface Seen {
  /** Pieces and vertices on the newest list, and pieces that have come since. */
  wanted: number;
  vertices: number;
  came: number;
  /** How strongly the field differs from what is beside it when `EARLY` pieces have come. */
  early: number | undefined;
}
/** What is used of the page's own globals; the tests have no types for a page. */
interface ViewGlobals {
  seen: Seen;
  readonly blockwrightTest: {
    project(point: readonly number[]): { x: number; y: number };
    pixel(x: number, y: number): number[];
  };
  addEventListener(type: 'message', listener: (event: { data: Message }) => void): void;
}
interface Message {
  readonly type?: unknown;
  readonly layer?: unknown;
  readonly index?: { readonly pieces: readonly { readonly vertices: number }[] };
}

/** Runs in the page: counts the pieces that come, and looks at what is drawn when so many of them have come. */
function countPieces(early: number): void {
  const page = globalThis as unknown as ViewGlobals;
  const seen: Seen = { wanted: 0, vertices: 0, came: 0, early: undefined };
  page.seen = seen;
  page.addEventListener('message', ({ data }) => {
    if (data.layer !== undefined) return;
    if (data.type === 'index') {
      const pieces = data.index?.pieces ?? [];
      seen.wanted = pieces.length;
      seen.vertices = pieces.reduce((sum, { vertices }) => sum + vertices, 0);
      seen.came = 0;
    }
    if (data.type !== 'piece') return;
    seen.came++;
    if (seen.came !== early || seen.early !== undefined) return;
    const { pixel, project: place } = page.blockwrightTest;
    const colourAt = (point: readonly number[]): number[] => {
      const { x, y } = place(point);
      return pixel(x, y);
    };
    const [field, beside] = [colourAt([50, 2, -1]), colourAt([-1.5, 2, -1])];
    seen.early = Math.max(...field.map((value, i) => Math.abs(value - beside[i]!)));
  });
}

const slow = { timeout: 60_000 };
const longest = 180_000;

describe('a path of a million moves', () => {
  let folder: string;
  let workbench: Workbench;
  let view: Frame;

  const seen = (): Promise<Seen> => view.evaluate(() => ({ ...(globalThis as unknown as ViewGlobals).seen }));
  const strengths = async (at: PartPoint, beside: PartPoint): Promise<number> => {
    const [strength] = await seenStrengths(view, [await crossingAt(view, at, beside)]);
    return strength!;
  };
  const click = async (point: PartPoint): Promise<void> => {
    const { x, y } = await project(view, point);
    await workbench.page.mouse.click(x, y);
  };
  const rounded = async (point: PartPoint): Promise<number[]> => {
    const { x, y } = await project(view, point);
    return [Math.round(x), Math.round(y)];
  };

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'blockwright-large-'));
    await writeFile(join(folder, 'large.nc'), large);
    await writeFile(join(folder, 'small.nc'), small);
    workbench = await Workbench.open(folder);
    await workbench.openFile('small.nc');
    view = await workbench.openPath();
    await view.locator('.extents', { hasText: 'X 0.000 to 20.000' }).waitFor(slow);
    await view.evaluate(countPieces, EARLY);
    await workbench.openFile('large.nc');
    await view.locator('.extents', { hasText: 'X 0.000 to 130.000' }).waitFor(slow);
    await view.locator('.extents', { hasText: 'Y 0.000 to 130.000' }).waitFor(slow);
  }, longest);

  afterAll(async () => {
    await workbench?.close();
    await rm(folder, { recursive: true, force: true });
  });

  it('shows a first picture before all of it has come', async () => {
    const { wanted, vertices, came, early } = await seen();
    expect(wanted).toBeGreaterThan(10);
    expect(came).toBe(wanted);
    // Each move leads to a vertex; each piece and each chunk has its start besides.
    expect(vertices).toBeGreaterThan(MOVES);
    expect(early).toBeGreaterThan(60);
  });

  it(
    'is drawn where it must be, and says that its lines are thin',
    async () => {
      await expect.poll(() => strengths([130, 60, 5], [110, 60, 5]), slow).toBeGreaterThan(60);
      expect(await strengths([60, 130, 5], [60, 110, 5])).toBeGreaterThan(60);
      expect(await strengths([115, 60, 5], [110, 60, 5])).toBeLessThan(30);
      expect(await view.locator('.notes').textContent()).toContain('drawn in thin lines');
      await workbench.screenshot('path-large');
    },
    longest,
  );

  it(
    'a click finds the line seen flat',
    async () => {
      await click([130, 50, 5]);
      await workbench.waitForText('.statusbar', `Ln ${besideLine}, Col 1`, slow.timeout);
    },
    longest,
  );

  it(
    'is turned in space as quickly as keys come, and fitted in again; a click finds the line there',
    async () => {
      await view.getByRole('button', { name: 'Space', exact: true }).click(slow);
      await view.locator('button[aria-pressed="true"]', { hasText: 'Space' }).waitFor(slow);
      await expect.poll(() => strengths([70, 130, 5], [70, 115, 5]), slow).toBeGreaterThan(60);
      const fitted = await rounded([130, 130, 5]);
      await view.locator('canvas.picture').focus();
      // If each of these had a whole picture of its own, the next lines would come too late.
      for (let i = 0; i < 30; i++) await workbench.page.keyboard.press('+');
      const enlarged = await rounded([130, 130, 5]);
      expect(enlarged).not.toEqual(fitted);
      await view.getByRole('button', { name: 'Fit', exact: true }).click(slow);
      await expect.poll(() => rounded([130, 130, 5]), slow).toEqual(fitted);
      await expect.poll(() => strengths([70, 130, 5], [70, 115, 5]), slow).toBeGreaterThan(60);
      await workbench.screenshot('path-large-space');
      await click([70, 130, 5]);
      await workbench.waitForText('.statusbar', `Ln ${aboveLine}, Col 1`, slow.timeout);
    },
    longest,
  );

  it(
    'an edit sends one piece',
    async () => {
      const { wanted } = await seen();
      await workbench.page.locator('.editor-instance .view-lines').first().click();
      await workbench.goTo(headLines + MOVES / 2 + 440, 2);
      await view.evaluate(() => {
        (globalThis as unknown as ViewGlobals).seen.came = 0;
      });
      // The move of that line leads to X44.0; with a 3 before it to X344.0.
      await workbench.page.keyboard.type('3');
      await view.locator('.extents', { hasText: 'X 0.000 to 344.000' }).waitFor(slow);
      expect((await seen()).came).toBe(1);
      expect((await seen()).wanted).toBe(wanted);
    },
    longest,
  );

  it('no console said an error', () => {
    expect(workbench.errors).toEqual([]);
  });
});
