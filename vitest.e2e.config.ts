import { defineConfig } from 'vitest/config'

/** Tests that drive a real browser against the running host. They take turns: each starts its own host and practice bench. */
export default defineConfig({
  test: {
    include: ['test/e2e/**/*.test.ts'],
    globalSetup: 'test/e2e/build-page.ts',
    environment: 'node',
    fileParallelism: false,
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
})
