import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['server/**/*.test.ts', 'client/**/*.test.ts', 'tests/**/*.test.ts'],
    // Browser tests wait most of their time: two at once on the two cores there are.
    maxWorkers: 2,
    testTimeout: 120_000,
    hookTimeout: 180_000,
  },
});
