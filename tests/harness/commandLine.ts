/** The command line as it is shipped: built once for a test file, started as a process. */
import { type SpawnSyncOptions, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { afterAll, beforeAll } from 'vitest';

/** What a run left behind. */
export interface Outcome {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** The built command line, and a folder for what a test writes beside it; both are removed behind the tests. */
export interface CommandLine {
  readonly cli: string;
  readonly built: string;
  /** A new empty folder. */
  folder(): string;
  /** Runs it to its end. */
  run(args: readonly string[], options: Pick<SpawnSyncOptions, 'cwd' | 'input' | 'env' | 'uid' | 'gid'>): Outcome;
}

/** Builds the command line before the tests of a file. */
export const buildCommandLine = (): CommandLine => {
  const built = mkdtempSync(join(tmpdir(), 'blockwright-cli-'));
  const cli = join(built, 'cli.js');
  beforeAll(() =>
    build({
      absWorkingDir: fileURLToPath(new URL('../..', import.meta.url)),
      entryPoints: ['server/src/entries/cli.ts'],
      outfile: cli,
      bundle: true,
      platform: 'node',
      format: 'cjs',
      target: 'node20',
      mainFields: ['module', 'main'],
      logLevel: 'error',
    }),
  );
  afterAll(() => rmSync(built, { recursive: true, force: true }));
  return {
    cli,
    built,
    folder: () => mkdtempSync(join(built, 'shop-')),
    run: (args, options) => {
      const { status, stdout, stderr } = spawnSync(process.execPath, [cli, ...args], {
        ...options,
        encoding: 'utf8',
        maxBuffer: 1e9,
        timeout: 60_000,
      });
      return { code: status, out: stdout, err: stderr };
    },
  };
};
