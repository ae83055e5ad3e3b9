import { existsSync, mkdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { writeFileAtomically } from './atomic-file.ts'

/** Puts the file as it is now by, under the second of `at`; gives its name. Throws what the system says. */
export function keepVersion(jobPath: string, folder: string, at: string): string {
  const stem = at.replace(/[^0-9]/g, '').slice(0, 14)
  for (let n = 0; ; n++) {
    const version = n === 0 ? stem : `${stem}-${n}`
    if (copyOnce(jobPath, folder, version)) return version
  }
}

/** One earlier version an hour is enough to go back to; autosave would otherwise keep thousands. Throws what the system says. */
export function keepHourly(jobPath: string, folder: string, at: string, kept: Set<string>): void {
  const hour = at.replace(/[^0-9]/g, '').slice(0, 10)
  if (kept.has(hour)) return
  copyOnce(jobPath, folder, hour)
  kept.add(hour)
}

function copyOnce(jobPath: string, folder: string, version: string): boolean {
  const copy = join(folder, `${version}.job.json`)
  if (existsSync(copy)) return false
  mkdirSync(folder, { recursive: true })
  writeFileAtomically(copy, readFileSync(jobPath))
  return true
}
