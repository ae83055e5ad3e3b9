import type { Handlers } from '../../app/contract/contract.ts'
import type { FileWorkView } from '../../app/contract/job-file-calls.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import type { FileWork } from '../files/file-work.ts'
import type { JobProblem } from '../files/job-store.ts'
import { refuse } from './refusals.ts'
import type { Topics } from './topics.ts'

/** Copying, packing and unpacking of jobs: one at a time, with progress for everybody, and a way to cancel it. */
export type FileWorker = {
  run<T>(
    what: NonNullable<FileWorkView['running']>['what'],
    work: (work: FileWork) => Promise<Result<T, JobProblem>>,
  ): Promise<Result<T, JobProblem>>
  calls: Pick<Handlers, 'job.cancel-copying'>
  close(): Promise<void>
}

export function createFileWorker(topics: Topics): FileWorker {
  let running: { stop: AbortController; ended: Promise<unknown> } | null = null
  const show = (view: FileWorkView) => topics.set('fileWork', undefined, view)
  show({ running: null })
  return {
    async run(what, work) {
      if (running) return fail({ kind: 'job-file', why: 'Another copy is being made; wait until it has ended, or cancel it.', where: '' })
      const stop = new AbortController()
      let shown = -1
      const tell = (done: number, of: number) => {
        const percent = Math.floor((100 * done) / Math.max(of, 1))
        if (percent === shown) return
        shown = percent
        show({ running: { what, done, of } })
      }
      const ended = work({ signal: stop.signal, tell })
      running = { stop, ended }
      try {
        return await ended
      } finally {
        running = null
        show({ running: null })
      }
    },
    calls: {
      async 'job.cancel-copying'() {
        if (!running) return refuse('Nothing is being copied.')
        const { stop, ended } = running
        stop.abort()
        await ended
        return ok({})
      },
    },
    async close() {
      running?.stop.abort()
      await running?.ended
    },
  }
}
