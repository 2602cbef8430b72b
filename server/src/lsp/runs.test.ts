/** What runs do when they are long, stopped, or broken. */

import { describe, expect, test } from 'vitest';
import { ErrorCodes, LSPErrorCodes } from 'vscode-languageserver';
import { Program } from './programs.ts';
import { type RunHooks, Runs } from './runs.ts';

const longText = `G21 G90 G17 F100\n${'G1 X1. Y1.\nG3 X2. Y1. I0.5 J0.\n'.repeat(60_000)}M30\n`;

function begin(text: string, own: Partial<RunHooks> = {}) {
  const seen = { finished: 0, failed: 0, pauses: 0 };
  const program = new Program('untitled:a.nc', 1, text);
  program.isConfigured = true;
  const runs = new Runs({
    pause: () => {
      seen.pauses++;
      return new Promise((resolve) => setImmediate(resolve));
    },
    showProgress: async () => undefined,
    finished: () => {
      seen.finished++;
    },
    failed: () => {
      seen.failed++;
    },
    ...own,
  });
  return { program, runs, seen };
}

describe('runs', () => {
  test('a short program is up to date at once', () => {
    const { program, runs, seen } = begin('G0 X1.\n');
    expect(runs.start(program)).toBe(true);
    expect(seen).toEqual({ finished: 1, failed: 0, pauses: 0 });
  });

  test('a long one lets messages in between its slices', async () => {
    const { program, runs, seen } = begin(longText);
    expect(runs.start(program)).toBe(false);
    await runs.upToDate(program);
    expect(seen.finished).toBe(1);
    expect(seen.pauses).toBeGreaterThan(1);
  });

  test('nothing runs before the configuration is known', async () => {
    const { program, runs, seen } = begin('G0 X1.\n');
    program.isConfigured = false;
    program.configured = new Promise((resolve) =>
      setTimeout(() => {
        program.isConfigured = true;
        resolve();
      }, 5),
    );
    expect(runs.start(program)).toBe(false);
    expect(seen.finished).toBe(0);
    await runs.upToDate(program);
    expect(seen.finished).toBe(1);
  });

  test('closing a program ends its run', async () => {
    const { program, runs, seen } = begin(longText);
    runs.start(program);
    program.isClosed = true;
    await expect(runs.upToDate(program)).rejects.toMatchObject({ code: ErrorCodes.InvalidParams });
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect(seen.finished).toBe(0);
    expect(program.run).toBeUndefined();
  });

  test('a slip of our own is an error answer, and the next change starts over', async () => {
    const { program, runs, seen } = begin('G0 X1.\n');
    const { runSlice } = program.analysis;
    program.analysis.runSlice = () => {
      throw new Error('a slip');
    };
    await expect(runs.upToDate(program)).rejects.toMatchObject({ code: ErrorCodes.InternalError });
    expect(seen.failed).toBe(1);
    program.analysis.runSlice = runSlice;
    program.change([{ range: undefined, text: 'G0 X2.\n' }]);
    await runs.upToDate(program);
    expect(seen.finished).toBe(1);
  });

  test('a run of more than half a second shows progress; stopped there, it waits for the next change', async () => {
    const shares: number[] = [];
    let done = 0;
    const { program, runs } = begin('G0 X1.\n', {
      showProgress: async () => ({
        get isCancelled() {
          return shares.length > 0;
        },
        report: (share) => shares.push(share),
        done: () => {
          done++;
        },
      }),
    });
    const { runSlice } = program.analysis;
    program.analysis.runSlice = () => false;
    await expect(runs.upToDate(program)).rejects.toMatchObject({ code: LSPErrorCodes.ServerCancelled });
    expect(shares).toHaveLength(1);
    await new Promise((resolve) => setImmediate(resolve));
    expect(done).toBe(1);
    program.analysis.runSlice = runSlice;
    program.change([{ range: undefined, text: 'G0 X2.\n' }]);
    await runs.upToDate(program);
    expect(program.isDirty).toBe(false);
  });
});
