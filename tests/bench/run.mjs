// Runs the benchmark (`npm run bench`): bundles each part, runs it in a process of its own, prints one table.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const here = fileURLToPath(new URL('.', import.meta.url));
const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'blockwright-bench-'));
const wanted = process.argv.slice(2);
try {
  for (const part of ['analysis', 'protocol', 'requests', 'path']) {
    if (wanted.length > 0 && !wanted.includes(part)) continue;
    const outfile = join(folder, `${part}.js`);
    await build({
      entryPoints: [join(here, `${part}.ts`)],
      outfile,
      bundle: true,
      platform: 'node',
      format: 'cjs',
      mainFields: ['module', 'main'],
      logLevel: 'warning',
    });
    const { status } = spawnSync(process.execPath, ['--expose-gc', '--max-old-space-size=8000', outfile], {
      stdio: 'inherit',
      cwd: root,
    });
    if (status !== 0) process.exitCode = 1;
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
