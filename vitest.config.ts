import { defineConfig } from 'vitest/config';

/** Units stand beside the code; everything that needs more than one room stands in tests/. */
export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: 'unit',
          include: ['{shared,server,web}/**/*.test.{ts,tsx}'],
          environment: 'node',
          testTimeout: 60_000,
          maxWorkers: 2,
          sequence: { groupOrder: 0 },
        },
      },
      {
        test: {
          name: 'architecture',
          include: ['tests/architecture/**/*.test.ts'],
          environment: 'node',
          sequence: { groupOrder: 1 },
        },
      },
      {
        test: {
          name: 'whole',
          include: ['tests/{contracts,oracles,parity,places}/**/*.test.ts', 'data/**/*.test.ts'],
          environment: 'node',
          testTimeout: 60_000,
          // Most of them start programs of their own.
          fileParallelism: false,
          sequence: { groupOrder: 2 },
        },
      },
      {
        test: {
          name: 'browser',
          include: ['tests/e2e/**/*.test.ts'],
          environment: 'node',
          testTimeout: 120_000,
          hookTimeout: 120_000,
          // On a busy machine an edit is saved a second or two after it was made.
          expect: { poll: { timeout: 10_000 } },
          fileParallelism: false,
          sequence: { groupOrder: 3 },
        },
      },
    ],
  },
});
