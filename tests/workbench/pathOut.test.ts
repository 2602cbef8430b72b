// The picture leaves the real workbench: a drawing whose arcs are those of the trace, a PNG, the clipboard.
import { execFileSync } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Frame } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { project } from './pathView.ts';
import { readPng } from './picture.ts';
import { Workbench } from './workbench.ts';

const root = new URL('../..', import.meta.url).pathname;
/** Arcs either way, one of three quarters, a full circle, a helix of two turns, and one in another plane. */
const program = `G17 G21 G40 G49 G80 G90 G94
G54
T1 M6 (END MILL D8)
S3000 M3
G0 X0. Y0.
Z5.
G1 Z-1. F200.
X40. F300.
G3 X50. Y10. J10.
G2 X60. Y20. R10.
G3 X50. Y10. I0. J-10.
G2 I-5.
G3 Z-3. I-8. P2
G18 G2 X60. Z-3. I5.
G17 G1 X0. Y30.
G0 Z50.
M30
`;

interface Arc {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  readonly radius: number;
  /** Counter-clockwise as the machinist sees it, Y up. */
  readonly isCounterClockwise: boolean;
}

/** The arcs of a drawing's path data; Y of a drawing points down. */
function arcsOf(svg: string): Arc[] {
  const arcs: Arc[] = [];
  for (const [, data] of svg.matchAll(/<path [^>]*stroke="#0b3c5d"[^>]* d="([^"]*)"/g)) {
    let pen: [number, number] = [0, 0];
    for (const [, command, words] of data.matchAll(/([MLA])([^MLAa]*)/g)) {
      const numbers = words.trim().split(/[ ,]+/).map(Number);
      const to: [number, number] = [numbers.at(-2)!, -numbers.at(-1)!];
      if (command === 'A') {
        arcs.push({ from: pen, to, radius: numbers[0], isCounterClockwise: numbers[4] === 0 });
      }
      pen = to;
    }
  }
  return arcs;
}

interface Traced {
  readonly kind: string;
  readonly plane: string;
  readonly from: number[];
  readonly to: number[];
  readonly centre: number[];
  readonly radius: number;
  readonly sweep: number;
}

/** The moves that the command line traces. */
function traced(file: string): Traced[] {
  const said = execFileSync('node', [join(root, 'dist/cli.js'), 'trace', file, '--format', 'json'], {
    encoding: 'utf8',
  });
  return (JSON.parse(said) as { moves: Traced[] }).moves;
}

/** The arcs of the XY plane as a drawing has them: of half a turn at most, a helix once round. */
function flatArcs(moves: readonly Traced[]): Arc[] {
  return moves
    .filter(({ kind, plane }) => kind === 'arc' && plane === 'XY')
    .flatMap(({ from, centre, radius, sweep }) => {
      const whole = Math.abs(sweep) <= 360 ? sweep : Math.sign(sweep) * (360 + (Math.abs(sweep) % 360));
      const parts = Math.max(1, Math.ceil(Math.abs(whole) / 180 - 1e-9));
      const start = Math.atan2(from[1] - centre[1], from[0] - centre[0]);
      const at = (part: number): [number, number] => {
        const angle = start + ((whole * part) / parts) * (Math.PI / 180);
        return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)];
      };
      return Array.from({ length: parts }, (_, i) => ({
        from: at(i),
        to: at(i + 1),
        radius,
        isCounterClockwise: sweep > 0,
      }));
    });
}

describe('the picture goes out', () => {
  let folder: string;
  let workbench: Workbench;
  let view: Frame;

  /** Unfolds the list and chooses, by the keyboard alone. */
  const choose = async (label: string): Promise<void> => {
    await view.getByRole('button', { name: 'Picture', exact: true }).focus();
    await workbench.page.keyboard.press('Enter');
    const item = view.getByRole('button', { name: label });
    await item.waitFor();
    for (let tab = 0; tab < 3; tab++) {
      await workbench.page.keyboard.press('Tab');
      if (await item.evaluate((button) => button.matches(':focus'))) break;
    }
    await workbench.page.keyboard.press('Enter');
  };

  /** Takes the name that the dialog proposes; gives what the file holds then. */
  const save = async (label: string, name: string): Promise<Buffer> => {
    await choose(label);
    const input = workbench.page.locator('.quick-input-widget input.input');
    await expect.poll(() => input.inputValue(), { timeout: 10_000 }).toContain(name);
    await input.press('Enter');
    await workbench.waitForText('.statusbar', `Saved ${name}`);
    return readFile(join(workbench.folder, name));
  };

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'blockwright-out-'));
    await writeFile(join(folder, 'arcs.nc'), program);
    workbench = await Workbench.open(folder);
    await workbench.page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
    await workbench.openFile('arcs.nc');
    view = await workbench.openPath();
    await view.locator('.extents', { hasText: 'X 0.000 to 60.000' }).waitFor();
  });

  afterAll(async () => {
    await workbench?.close();
    await rm(folder, { recursive: true, force: true });
  });

  it('saves a drawing whose arcs are those of the trace', async () => {
    const svg = (await save('Save drawing (SVG)…', 'arcs-XY.svg')).toString();
    const moves = traced(join(workbench.folder, 'arcs.nc'));
    const [drawn, wanted] = [arcsOf(svg), flatArcs(moves)];
    expect(wanted.length).toBe(7);
    expect(drawn.length).toBe(wanted.length);
    drawn.forEach((arc, i) => {
      expect(arc.isCounterClockwise).toBe(wanted[i].isCounterClockwise);
      for (const [a, b] of [
        [arc.radius, wanted[i].radius],
        [arc.from[0], wanted[i].from[0]],
        [arc.from[1], wanted[i].from[1]],
        [arc.to[0], wanted[i].to[0]],
        [arc.to[1], wanted[i].to[1]],
      ]) {
        expect(a).toBeCloseTo(b, 4);
      }
    });
    expect(svg).toContain('>X 60.000 (0.000 to 60.000)<');
  });

  it('draws the plane that is seen', async () => {
    await view.getByRole('button', { name: 'Front ZX' }).click();
    const svg = (await save('Save drawing (SVG)…', 'arcs-ZX.svg')).toString();
    expect(svg).toContain('path in ZX');
    const [arc] = arcsOf(svg).filter(({ from, to }) => from[0] !== to[0]);
    expect(arc.radius).toBeCloseTo(5, 4);
    await view.getByRole('button', { name: 'Space', exact: true }).click();
    await view.getByRole('button', { name: 'Picture', exact: true }).click();
    expect(await view.getByRole('button', { name: 'Save drawing (SVG)…' }).isDisabled()).toBe(true);
    await workbench.page.keyboard.press('Escape');
    expect(await view.getByRole('button', { name: 'Save drawing (SVG)…' }).isVisible()).toBe(false);
    await view.getByRole('button', { name: 'Top XY' }).click();
  });

  it('saves the picture as it is seen', async () => {
    const picture = readPng(await save('Save picture (PNG)…', 'arcs-top.png'));
    const box = (await view.locator('canvas.picture').boundingBox())!;
    expect(picture.width).toBe(Math.round(box.width));
    expect(picture.height).toBeGreaterThan(box.height);
    const at = async (x: number, y: number): Promise<{ x: number; y: number }> => {
      const place = await project(view, [x, y, 0]);
      return { x: place.x - box.x, y: place.y - box.y };
    };
    const near = (place: { x: number; y: number }): readonly number[][] =>
      [-1, 0, 1].flatMap((dx) => [-1, 0, 1].map((dy) => [...picture.colour(place.x + dx, place.y + dy)]));
    const lightest = (colours: readonly number[][]): number => Math.min(...colours.map((c) => Math.min(...c)));
    // On the first cut and on the arc behind it, and beside them: by what the screen shows, and by the file.
    const beside = lightest(near(await at(20, 6)));
    expect(lightest(near(await at(20, 0)))).toBeLessThan(beside - 80);
    expect(lightest(near(await at(40 + 10 * Math.SQRT1_2, 10 - 10 * Math.SQRT1_2)))).toBeLessThan(beside - 80);
  });

  it('copies the picture', async () => {
    await choose('Copy picture');
    await view.locator('.out .said', { hasText: 'on the clipboard' }).waitFor({ timeout: 10_000 });
    const types = await view.evaluate(async () => {
      const { navigator } = globalThis as unknown as {
        navigator: { clipboard: { read(): Promise<{ types: string[] }[]> } };
      };
      return (await navigator.clipboard.read()).flatMap((item) => [...item.types]);
    });
    expect(types).toEqual(['image/png']);
  });

  it('no console said an error', () => {
    expect(workbench.errors).toEqual([]);
  });
});
