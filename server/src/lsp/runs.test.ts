/** What runs do when they are long, stopped, or broken. */

import { describe, expect, test } from 'vitest';
import { ErrorCodes, LSPErrorCodes } from 'vscode-languageserver';
import { CancellationTokenSource } from 'vscode-languageserver/node';
import { type Configuration, DEFAULT_CONFIGURATION } from '../core/machine/configuration.ts';
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
    foundMore: () => {
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

  describe('what takes its time', () => {
    const blank: Configuration = {
      ...DEFAULT_CONFIGURATION,
      stock: { offset: 'G54', shape: 'box', min: [0, 0, -20], max: [80, 50, 0] },
    };
    const pocket = (x: number) => `G0 X${x}. Y10.\nG1 Z-5. F100\nY40.\nG0 Z2.\n`;
    const text = `G21 G90 G54\nT1 M6 (END MILL D10)\nG43 H1 Z2.\n${pocket(10)}${pocket(60)}G0 Z-3.\nX30.\nM30\n`;
    const found = (program: Program) =>
      program.analysis.findings().findings.filter(({ rule }) => rule === 'rapid-into-stock').length;
    const wait = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));

    test('comes when nothing came in for a while, and is told as another run', async () => {
      const { program, runs, seen } = begin(text);
      program.configure(blank);
      runs.start(program);
      expect([seen.finished, program.runCount, found(program), program.analysis.isSettled]).toEqual([1, 1, 0, false]);
      await wait(150);
      program.change([{ range: undefined, text: `(A REMARK)\n${text}` }]);
      runs.start(program);
      const changed = performance.now();
      await expect.poll(() => program.analysis.isSettled, { interval: 5, timeout: 5000 }).toBe(true);
      expect(performance.now() - changed).toBeGreaterThan(295);
      await expect.poll(() => program.settling).toBeUndefined();
      expect([seen.finished, program.runCount, found(program)]).toEqual([3, 3, 1]);
      // Nothing else was found: nobody is told again.
      program.change([{ range: undefined, text: `(A REMARK)\n${text}` }]);
      runs.start(program);
      await runs.settled(program);
      await expect.poll(() => program.settling).toBeUndefined();
      expect(seen.finished).toBe(5);
      expect(found(program)).toBe(1);
    });

    test('is not waited for by who asks for the program, at once by who asks for all', async () => {
      const { program, runs } = begin(text);
      program.configure(blank);
      await runs.upToDate(program);
      expect(program.analysis.isSettled).toBe(false);
      const start = performance.now();
      await Promise.all([runs.settled(program), runs.settled(program)]);
      expect(performance.now() - start).toBeLessThan(200);
      expect([found(program), program.analysis.isSettled]).toEqual([1, true]);
    });

    test('goes on where it was held up by a subprogram’s file and nothing changed', async () => {
      const { program, runs } = begin(text);
      program.configure(blank);
      runs.start(program);
      let arrive = (): void => undefined;
      program.awaited = new Promise((resolve) => {
        arrive = resolve;
      });
      await expect.poll(() => program.settling, { timeout: 5000 }).toBeUndefined();
      expect(program.analysis.isSettled).toBe(false);
      arrive();
      program.awaited = undefined;
      expect(runs.start(program)).toBe(true);
      await expect.poll(() => program.analysis.isSettled, { timeout: 5000 }).toBe(true);
      expect(found(program)).toBe(1);
    });

    test('ends with its program, and gives way to who cancels', async () => {
      const { program, runs, seen } = begin(text);
      program.configure(blank);
      runs.start(program);
      const cancel = new CancellationTokenSource();
      const waiting = runs.settled(program, cancel.token);
      cancel.cancel();
      await expect(waiting).rejects.toMatchObject({ code: LSPErrorCodes.RequestCancelled });
      program.isClosed = true;
      await expect(runs.settled(program)).rejects.toMatchObject({ code: ErrorCodes.InvalidParams });
      await expect.poll(() => program.settling).toBeUndefined();
      expect([seen.finished, program.analysis.isSettled]).toEqual([1, false]);
    });

    test('a slip of our own in it is an error answer, and the next change starts over', async () => {
      const { program, runs, seen } = begin(text);
      program.configure(blank);
      runs.start(program);
      const { settle } = program.analysis;
      program.analysis.settle = () => {
        throw new Error('a slip');
      };
      await expect(runs.settled(program)).rejects.toMatchObject({ code: ErrorCodes.InternalError });
      expect(seen.failed).toBe(1);
      program.analysis.settle = settle;
      program.change([{ range: undefined, text }]);
      await runs.settled(program);
      expect(found(program)).toBe(1);
    });
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
