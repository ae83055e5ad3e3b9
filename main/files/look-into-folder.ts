import { readdirSync, statSync } from 'node:fs'
import { dirname, join, resolve } from 'node:path'
import { fail, ok, type Result } from '../../app/result.ts'
import { describeDiskProblem } from './disk-problem.ts'

type Place = { name: string; path: string }
export type FolderView = { folder: string; parent: string | null; folders: Place[]; jobs: Place[]; bundles: Place[] }

/** Names only, and only of what a job could be in: nothing is opened. */
export function lookIntoFolder(path: string): Result<FolderView, string> {
  const folder = resolve(path)
  try {
    const entries = readdirSync(folder).flatMap((name) => {
      const stat = statSync(join(folder, name), { throwIfNoEntry: false })
      return stat ? [{ name, path: join(folder, name), isFolder: stat.isDirectory() }] : []
    })
    const places = (wanted: (name: string, isFolder: boolean) => boolean): Place[] =>
      entries
        .filter((e) => wanted(e.name, e.isFolder))
        .map(({ name, path: at }) => ({ name, path: at }))
        .sort((a, b) => a.name.localeCompare(b.name))
    const parent = dirname(folder)
    return ok({
      folder,
      parent: parent === folder ? null : parent,
      folders: places((name, isFolder) => isFolder && !name.startsWith('.') && !name.endsWith('.job')),
      jobs: places((name, isFolder) => !isFolder && name.endsWith('.job.json')),
      bundles: places((name, isFolder) => !isFolder && name.endsWith('.zip')),
    })
  } catch (cause) {
    return fail(describeDiskProblem(cause))
  }
}
