import { describe, expect, test } from 'vitest';
import { LookAhead } from './lookAhead.ts';
import { Program } from './programs.ts';

const LINES = 60_000;
const ready = (text: string): Program => {
  const program = new Program('file:///long.nc', 1, text);
  program.analysis.run();
  program.isDirty = false;
  program.finishedAt = performance.now() - 10_000;
  return program;
};

describe('looking ahead in a program', () => {
  const long = 'G1 X1. F100\n'.repeat(LINES);
  const pauses = (program: Program): number => Math.ceil(program.analysis.chunks.length / 64);

  test('a long one is gone through in pieces', async () => {
    let paused = 0;
    const program = ready(long);
    await new LookAhead(async () => void paused++).look(program);
    expect(paused).toBe(pauses(program));
    expect(paused).toBeGreaterThan(1);
  });

  test('a short one is left alone', async () => {
    let paused = 0;
    await new LookAhead(async () => void paused++).look(ready('G1 X1. F100\n'));
    expect(paused).toBe(0);
  });

  test('a change between begins again, and never twice at a time', async () => {
    let paused = 0;
    const program = ready(long);
    const ahead = new LookAhead(async () => {
      if (++paused === 2) program.version = 2;
      // A run that ends meanwhile asks again: one search is under way.
      if (paused === 1) await ahead.look(program);
    });
    await ahead.look(program);
    expect(paused).toBe(2 + pauses(program));
  });

  test('a closed one is given up', async () => {
    let paused = 0;
    const program = ready(long);
    await new LookAhead(async () => {
      paused++;
      program.isClosed = true;
    }).look(program);
    expect(paused).toBe(1);
  });
});
