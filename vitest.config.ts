import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts', 'test/**/*.test.tsx'],
    exclude: ['test/e2e/**'],
    environment: 'node',
    // Left to itself the runner keeps one core of two for itself; most tests here wait for a line.
    maxWorkers: 2,
    testTimeout: 20_000,
    hookTimeout: 30_000,
    // Concurrent tests are those that wait for line time, most of it silence: they cost the machine next to nothing.
    maxConcurrency: 12,
  },
})
