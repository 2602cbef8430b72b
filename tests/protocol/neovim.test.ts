// Another editor over `serve --stdio`: Neovim as Debian ships it opens an example. Skipped where there is none; the build
// server installs it.
import { spawnSync } from 'node:child_process';
import { copyFileSync, existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { buildCommandLine } from '../harness/commandLine.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const line = buildCommandLine();

interface Seen {
  readonly error?: string;
  readonly diagnostics: readonly { readonly line: number; readonly code: string; readonly message: string }[];
  readonly hover: { readonly contents: { readonly value: string } };
  readonly actions: readonly string[];
  readonly repaired: string;
  readonly left: readonly number[];
  readonly completions: readonly string[];
}

const hasNeovim = spawnSync('nvim', ['--version']).status === 0;

test.skipIf(!hasNeovim)('Neovim shows findings, explains, repairs and completes', () => {
  const folder = line.folder();
  const program = join(folder, 'first-five-minutes.nc');
  copyFileSync(join(root, 'examples/first-five-minutes.nc'), program);
  const text = readFileSync(program, 'utf8').split('\n');
  const wrong = text.indexOf('G2 X65. Y35. I0. K-10.');
  const out = join(folder, 'seen.json');
  const { status, stderr } = spawnSync(
    'nvim',
    ['--headless', '-u', 'NONE', '-i', 'NONE', '-n', '-c', `luafile ${join(root, 'tests/protocol/neovim.lua')}`],
    {
      cwd: folder,
      timeout: 90_000,
      encoding: 'utf8',
      env: {
        ...process.env,
        XDG_STATE_HOME: folder,
        XDG_CACHE_HOME: folder,
        XDG_DATA_HOME: folder,
        NODE: process.execPath,
        SERVER: line.cli,
        PROGRAM: program,
        PLACE: JSON.stringify({ line: wrong, character: 18 }),
        OUT: out,
      },
    },
  );
  expect(existsSync(out), `Neovim ended with ${status}: ${stderr}`).toBe(true);
  const seen = JSON.parse(readFileSync(out, 'utf8')) as Seen;
  expect(seen.error).toBeUndefined();
  expect(seen.diagnostics.filter((one) => one.line === wrong).map(({ code }) => code)).toEqual([
    'arc-centre-off-plane',
  ]);
  expect(seen.hover.contents.value).toContain('K');
  expect(seen.actions[0]).toContain('J');
  expect(seen.repaired).toBe('G2 X65. Y35. I0. J-10.');
  expect(seen.left).not.toContain(wrong);
  expect(seen.completions).toContain('helical');
});
