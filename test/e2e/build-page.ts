import { build } from 'vite'

/** Builds the page as it is shipped, once for all browser tests. */
export async function setup(): Promise<void> {
  await build({ configFile: 'renderer/vite.config.ts', logLevel: 'error' })
}
