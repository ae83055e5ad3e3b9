import { existsSync, readdirSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { staysBehind } from './place-job.ts'

export type EndedRecording = { name: string; path: string; bytes: number }

/**
 * The recordings beside a job: what may be long, and does not change once it has ended. What else stands there is small and changes with
 * every edit, so that it is copied last and in one go.
 */
export function endedRecordings(folder: string): EndedRecording[] {
  const recordings = join(folder, 'recordings')
  if (!existsSync(recordings)) return []
  return readdirSync(recordings, { withFileTypes: true }).flatMap((entry) => {
    const path = join(recordings, entry.name)
    return entry.isFile() && !staysBehind(entry.name) ? [{ name: entry.name, path, bytes: statSync(path).size }] : []
  })
}
