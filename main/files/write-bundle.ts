import { closeSync, existsSync, fsyncSync, openSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import { setImmediate as roomForOthers } from 'node:timers/promises'
import { Zip, ZipDeflate } from 'fflate'
import { fail, ok, type Result } from '../../app/result.ts'
import { type BundleLimits, bundleLimits } from './bundle.ts'
import { describeDiskProblem } from './disk-problem.ts'
import { endedRecordings } from './ended-recordings.ts'
import { cancelled, type FileWork, partsOf, unwatched } from './file-work.ts'
import { companion, type JobProblem } from './job-store.ts'
import { staysBehind } from './place-job.ts'

/**
 * Puts `X.job.json` and what stands beside it in `X.job/` into one new zip file; one that is there is not overwritten. The file has its
 * name only when it is whole. The host goes on meanwhile: recordings come first, and in parts; what changes comes last and in one go.
 */
export async function writeBundle(
  jobPath: string,
  to: string,
  limits: BundleLimits = bundleLimits,
  { signal, tell }: FileWork = unwatched,
): Promise<Result<{ path: string; files: number; bytes: number }, JobProblem>> {
  const problem = (why: string, where = to) => fail({ kind: 'job-file' as const, why, where })
  const taken = 'There is a file with this name already; choose another name.'
  if (!to.endsWith('.zip')) return problem('The name of a bundle ends in .zip.')
  if (existsSync(to)) return problem(taken)
  const folder = companion(jobPath)
  const coming = `${to}.next`
  let file: number | undefined
  try {
    const recordings = endedRecordings(folder)
    const recorded = recordings.reduce((sum, r) => sum + r.bytes, 0)
    const small = () => [jobPath, ...othersIn(folder, new Set(recordings.map((r) => r.path)))]
    const count = small().length + recordings.length
    const bytes = small().reduce((sum, path) => sum + statSync(path).size, recorded)
    if (count > limits.files || bytes > limits.allFiles)
      return problem(`The job has ${count} files of ${bytes} bytes together: too much for one bundle. Move old recordings elsewhere.`)
    file = openSync(coming, 'w')
    const archive = zipInto(file)
    let done = 0
    for (const { name, path } of recordings) {
      const entry = archive.entry(`${basename(folder)}/recordings/${name}`)
      for await (const part of partsOf(path, signal)) {
        entry.push(part)
        done += part.length
        tell(done, recorded)
        await roomForOthers()
      }
      entry.push(new Uint8Array(0), true)
    }
    const last = small()
    for (const path of last) archive.entry(path === jobPath ? basename(path) : nameIn(folder, path)).push(readFileSync(path), true)
    archive.end()
    fsyncSync(file)
    const size = statSync(coming).size
    closeSync(file)
    file = undefined
    if (existsSync(to)) {
      rmSync(coming)
      return problem(taken)
    }
    renameSync(coming, to)
    return ok({ path: to, files: last.length + recordings.length, bytes: size })
  } catch (cause) {
    if (file !== undefined) closeSync(file)
    rmSync(coming, { force: true })
    return problem(signal.aborted ? `${cancelled} Nothing was left behind.` : describeDiskProblem(cause))
  }
}

/** An archive that grows on the disk, so that it never stands in memory. */
function zipInto(file: number) {
  const zip = new Zip((cause, chunk) => {
    if (cause) throw cause
    writeFileSync(file, chunk)
  })
  return {
    entry(name: string): ZipDeflate {
      const entry = new ZipDeflate(name)
      zip.add(entry)
      return entry
    },
    end: () => zip.end(),
  }
}

const nameIn = (folder: string, path: string) => basename(folder) + path.slice(folder.length).replaceAll('\\', '/')

function othersIn(folder: string, without: ReadonlySet<string>): string[] {
  if (!existsSync(folder)) return []
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name)
    if (staysBehind(entry.name) || without.has(path)) return []
    return entry.isDirectory() ? othersIn(path, without) : entry.isFile() ? [path] : []
  })
}
