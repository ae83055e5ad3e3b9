import { build } from 'vite'

/** Builds the page as it is shipped, once for all browser tests. */
export async function setup(): Promise<void> {
  // Under a test runner React's development build would be taken.
  const environment = process.env['NODE_ENV']
  process.env['NODE_ENV'] = 'production'
  await build({ configFile: 'renderer/vite.config.ts', logLevel: 'error' })
  if (environment === undefined) delete process.env['NODE_ENV']
  else process.env['NODE_ENV'] = environment
}
