import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Handlers } from '../../app/contract/contract.ts'
import { longestPart } from '../../app/contract/job-file-calls.ts'
import { ok, type Result } from '../../app/result.ts'
import { describeDiskProblem } from '../files/disk-problem.ts'
import { type IncomingFile, incomingFile } from '../files/incoming-file.ts'
import { createJob, type JobProblem, parseJob } from '../files/job-store.ts'
import type { FileWorker } from './file-work.ts'
import { openAt, readyFor, unpacked } from './job-file-calls.ts'
import { whyNotLeave } from './leave-job.ts'
import { refuse } from './refusals.ts'
import type { World } from './world.ts'

type DroppedFileCalls = Pick<Handlers, 'import.begin' | 'import.part' | 'import.end' | 'import.cancel'>

/** A bundle or job file that the page hands over in parts. One at a time: beginning another drops the one before. */
export function droppedFileCalls(w: World, files: FileWorker): { calls: DroppedFileCalls; close(): void } {
  let current: { importId: string; file: IncomingFile } | null = null
  const drop = () => {
    current?.file.drop()
    current = null
  }
  const gone = () => refuse('This import is over. Drop the file once more.', 'importId')

  return {
    close: drop,
    calls: {
      async 'import.begin'({ name, bytes }) {
        drop()
        const file = incomingFile(name, bytes)
        if (!file.ok) return refuse(file.failure, 'name')
        current = { importId: w.newId('import'), file: file.value }
        return ok({ importId: current.importId, longestPart })
      },
      async 'import.part'({ importId, base64 }) {
        if (current?.importId !== importId) return gone()
        const added = current.file.add(Buffer.from(base64, 'base64'))
        if (added.ok) return ok({ received: current.file.received })
        current = null
        return refuse(added.failure)
      },
      async 'import.end'({ importId, into }) {
        const { door } = w
        if (!door) return refuse('This host was started for one job and serves no other.')
        if (current?.importId !== importId) return gone()
        const bar = whyNotLeave(w)
        if (bar) return refuse(bar)
        const { file } = current
        const whole = file.whole()
        if (!whole.ok) return refuse(whole.failure)
        const placed = file.name.endsWith('.zip')
          ? await unpacked(files, whole.value, into ?? door.folder)
          : jobPlaced(whole.value, join(into ?? door.folder, file.name), door.folder)
        if (current?.importId === importId) drop()
        else file.drop()
        return placed.ok ? openAt(door, placed.value) : refuse(placed.failure.why, placed.failure.where)
      },
      async 'import.cancel'({ importId }) {
        if (current?.importId !== importId) return gone()
        drop()
        return ok({})
      },
    },
  }
}

function jobPlaced(from: string, to: string, jobsFolder: string): Result<string, JobProblem> {
  let text: string
  try {
    text = readFileSync(from, 'utf8')
  } catch (cause) {
    return { ok: false, failure: { kind: 'job-file', why: describeDiskProblem(cause), where: from } }
  }
  const job = parseJob(text, to)
  if (!job.ok) return job
  const ready = readyFor(to, jobsFolder)
  const made = ready.ok ? createJob(to, job.value) : ready
  return made.ok ? ok(to) : made
}
