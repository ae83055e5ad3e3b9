import { join, resolve } from 'node:path'
import { parseArgs } from 'node:util'

/** Which job the window opens: the one named by `--job`, else the practice job in the user's own folder. */
export function jobArgument(args: readonly string[], home: string): { jobPath: string; practice: boolean } {
  const { values } = parseArgs({ args: [...args], options: { job: { type: 'string' } }, strict: false })
  if (typeof values.job === 'string') return { jobPath: resolve(values.job), practice: false }
  return { jobPath: join(home, '.spanwright', 'practice.job.json'), practice: true }
}
