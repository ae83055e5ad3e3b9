import { mkdirSync, statSync } from 'node:fs'
import { readFile, writeFile } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import type { Job } from '../../app/job/schema.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { describeDiskProblem } from './disk-problem.ts'
import { type FileWork, unwatched } from './file-work.ts'
import { type JobProblem, parseJob } from './job-store.ts'
import { placeJob, staysBehind } from './place-job.ts'
import { unpackEntry, type ZipEntry, zipEntries } from './zip-entries.ts'

/** Sizes unpacked, in bytes, and number of files. A bundle is held in memory, packed, while it is opened. */
export type BundleLimits = { files: number; oneFile: number; allFiles: number }
export const bundleLimits: BundleLimits = { files: 10_000, oneFile: 200_000_000, allFiles: 500_000_000 }

/**
 * Unpacks a bundle into a folder. What it names is checked before the first byte is written, and each file before its own. A job or folder
 * of that name is not overwritten; a bundle that is damaged, or cancelled on the way, leaves nothing behind.
 */
export async function openBundle(
  bundlePath: string,
  into: string,
  limits: BundleLimits = bundleLimits,
  { signal, tell }: FileWork = unwatched,
): Promise<Result<{ path: string; job: Job }, JobProblem>> {
  const problem = (why: string, where = bundlePath) => fail({ kind: 'job-file' as const, why, where })
  let archive: Buffer<ArrayBuffer>
  try {
    if (statSync(bundlePath).size > limits.allFiles) return problem('The file is too big for a bundle.')
    archive = await readFile(bundlePath)
  } catch (cause) {
    return problem(describeDiskProblem(cause))
  }
  const entries = zipEntries(archive)
  if (!entries.ok) return problem(`This is no bundle. ${entries.failure}`)
  const files = entries.value.filter((e) => !e.name.endsWith('/'))
  const jobName = files.map((e) => e.name).find((name) => /^[^./\\:*?"<>|][^/\\:*?"<>|]*\.job\.json$/.test(name))
  if (jobName === undefined) return problem('There is no job in this archive: a bundle has one X.job.json at its top.')
  const unfit = whyUnfit(files, jobName, limits)
  if (unfit) return problem(unfit)
  const damaged = (name: string) => `The archive is damaged at ${name}. Have it sent again.`
  const jobEntry = files.find((e) => e.name === jobName)
  const jobText = jobEntry && (await unpackEntry(archive, jobEntry))
  if (!jobText) return problem(damaged(jobName))
  const job = parseJob(new TextDecoder().decode(jobText), jobName)
  if (!job.ok) return job
  const path = join(into, jobName)
  const beside = files.filter((e) => e.name !== jobName && !staysBehind(basename(e.name)))
  const of = beside.reduce((sum, e) => sum + e.bytes, 0)
  const fill = async (coming: string) => {
    let done = 0
    for (const entry of beside) {
      signal.throwIfAborted()
      const content = await unpackEntry(archive, entry)
      if (!content) return damaged(entry.name)
      const to = join(coming, entry.name.slice(entry.name.indexOf('/') + 1))
      mkdirSync(dirname(to), { recursive: true })
      await writeFile(to, content, { flag: 'wx', flush: true })
      done += content.length
      tell(done, of)
    }
    return null
  }
  const placed = await placeJob(path, fill, () => jobText, signal)
  return placed.ok ? ok({ path, job: job.value }) : placed
}

function whyUnfit(files: readonly ZipEntry[], jobName: string, limits: BundleLimits): string | null {
  const folder = jobName.replace(/\.json$/, '')
  if (files.length > limits.files) return `The archive has ${files.length} files; a bundle has at most ${limits.files}.`
  const big = files.find((e) => e.bytes > limits.oneFile)
  if (big) return `${big.name} would unpack to ${big.bytes} bytes: too much.`
  const all = files.reduce((sum, e) => sum + e.bytes, 0)
  if (all > limits.allFiles) return `The archive would unpack to ${all} bytes: too much.`
  if (new Set(files.map((e) => e.name.toLowerCase())).size !== files.length) return 'The archive holds one name twice.'
  const outside = files.find((e) => e.name !== jobName && !isInside(e.name, folder))
  if (outside) return `The archive holds "${outside.name}", which belongs to no job. Nothing was unpacked.`
  return null
}

/** A plain path below the folder: no way up, no root, no drive, no device, nothing that another system reads as one. */
function isInside(name: string, folder: string): boolean {
  const [top, ...rest] = name.split('/')
  return top === folder && rest.length > 0 && rest.every((part) => /^[\w][\w .,()+@-]*$/.test(part) && !/[. ]$/.test(part))
}
