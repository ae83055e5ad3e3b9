import { closeSync, mkdtempSync, openSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fail, ok, type Result } from '../../app/result.ts'
import { describeDiskProblem } from './disk-problem.ts'

/** A file that comes in parts, kept in a folder of its own until it is whole. */
export type IncomingFile = {
  readonly name: string
  readonly received: number
  /** Fails where there is more than was announced, or the disk refuses; the file is over then. */
  add(part: Uint8Array): Result<null, string>
  /** The path of the whole file; fails where something is missing. It is gone after `drop`. */
  whole(): Result<string, string>
  drop(): void
}

/** `name` is a plain file name as the page gives it: `X.zip` or `X.job.json`. */
export function incomingFile(name: string, bytes: number, parent = tmpdir()): Result<IncomingFile, string> {
  if (!/^[^./\\:*?"<>|\p{Cc}][^/\\:*?"<>|\p{Cc}]*\.(zip|job\.json)$/u.test(name))
    return fail('A bundle (X.zip) or a job file (X.job.json) is needed.')
  let folder: string
  let file: number
  try {
    folder = mkdtempSync(join(parent, 'spanwright-import-'))
    file = openSync(join(folder, name), 'wx')
  } catch (cause) {
    return fail(describeDiskProblem(cause))
  }
  let received = 0
  let over = false
  const drop = () => {
    if (!over) closeSync(file)
    over = true
    rmSync(folder, { recursive: true, force: true })
  }
  return ok({
    name,
    get received() {
      return received
    },
    add(part) {
      if (over) return fail('This import has ended.')
      if (received + part.length > bytes) {
        drop()
        return fail(`More than the ${bytes} bytes announced came. Drop the file once more.`)
      }
      try {
        writeFileSync(file, part)
        received += part.length
        return ok(null)
      } catch (cause) {
        drop()
        return fail(describeDiskProblem(cause))
      }
    },
    whole: () => {
      if (over) return fail('This import has ended.')
      return received === bytes ? ok(join(folder, name)) : fail(`Only ${received} of ${bytes} bytes have come. Drop the file once more.`)
    },
    drop,
  })
}
