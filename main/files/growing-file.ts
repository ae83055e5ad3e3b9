import { closeSync, fdatasyncSync, writeFileSync } from 'node:fs'
import { fail, ok, type Result } from '../../app/result.ts'
import { csvLine } from './csv.ts'
import { describeDiskProblem } from './disk-problem.ts'

/** A CSV file that grows line by line, until it is ended or the disk refuses. */
export type GrowingFile = {
  readonly rows: number
  /** Kept in memory until the next flush. */
  add(cells: readonly string[]): void
  /** Puts everything added on the disk. After a failure the file is over. */
  flush(): Result<null, string>
  /** Adds a last line with instant and number of rows, flushes and closes. */
  end(at: string): Result<null, string>
}

/** On a file that is open for appending, beginning with `head`. `over` is said of it after its end. */
export function growingFile(descriptor: number, head: string, ended: string): GrowingFile {
  let waiting = head
  let rows = 0
  let over: string | null = null
  const flush = (): Result<null, string> => {
    if (over !== null) return fail(over)
    try {
      writeFileSync(descriptor, waiting)
      fdatasyncSync(descriptor)
      waiting = ''
      return ok(null)
    } catch (cause) {
      if (isNoDisk(cause)) {
        waiting = ''
        return ok(null)
      }
      over = describeDiskProblem(cause)
      closeSync(descriptor)
      return fail(over)
    }
  }
  return {
    get rows() {
      return rows
    },
    add(cells) {
      if (over !== null) return
      waiting += csvLine(cells)
      rows++
    },
    flush,
    end(at) {
      if (over === null) waiting += csvLine(['ended', at, String(rows)])
      const flushed = flush()
      if (over === null) closeSync(descriptor)
      over ??= ended
      return flushed
    },
  }
}

/** A pipe or device has nothing to sync: what was written has arrived. */
const isNoDisk = (cause: unknown) => cause instanceof Error && 'code' in cause && cause.code === 'EINVAL'
