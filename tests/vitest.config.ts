import { defineConfig } from 'vitest/config';

const browserTests = 'tests/workbench/**/*.test.ts';

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    testTimeout: 120_000,
    hookTimeout: 180_000,
    projects: [
      {
        extends: true,
        test: {
          name: 'core',
          include: ['server/**/*.test.ts', 'client/**/*.test.ts', 'tests/**/*.test.ts'],
          exclude: ['**/node_modules/**', browserTests],
          maxWorkers: 2,
          // Tests share no state in modules: reading all of them again for each file costs an eighth of the processor time.
          isolate: false,
        },
      },
      {
        extends: true,
        test: {
          name: 'workbench',
          include: [browserTests],
          // One browser at a time: it draws by software and wants both cores. What a busy machine made late is tried once more.
          maxWorkers: 1,
          retry: 1,
          expect: { poll: { timeout: 20_000 } },
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
