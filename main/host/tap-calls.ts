import { join } from 'node:path'
import type { Handlers } from '../../app/contract/contract.ts'
import { isModbusTcp } from '../../app/job/indicator-rules.ts'
import { ok } from '../../app/result.ts'
import type { OpenBus } from '../bus/open-bus.ts'
import { type FrameFile, type FrameFileHeader, startFrameFile } from '../files/frame-file.ts'
import { companion } from '../files/job-store.ts'
import { refuse } from './refusals.ts'
import { busOf, type World } from './world.ts'

const flushEveryMs = 1_000

type Running = { file: FrameFile; startedAt: string; shown: number }

export type Taps = {
  calls: Pick<Handlers, 'bus.tap-start' | 'bus.tap-stop'>
  /** A bus was opened: its frames go to the tap of this bus, now or later. */
  follow(busId: string, bus: OpenBus): void
  close(): void
}

/** Every frame of a bus with its time, in a file beside the job; over closing and opening, scans and lost links. */
export function createTaps(w: World): Taps {
  const running = new Map<string, Running>()
  const show = (busId: string, r: Running, state: 'running' | 'ended' | 'failed', why?: string) => {
    const { name: file, frames } = r.file
    w.topics.set('tap', busId, { state, file, startedAt: r.startedAt, frames, ...(why === undefined ? {} : { why }) })
  }

  const timer = setInterval(() => {
    for (const [busId, r] of running) {
      const flushed = r.file.flush()
      if (!flushed.ok) {
        running.delete(busId)
        show(busId, r, 'failed', flushed.failure)
      } else if (r.shown !== r.file.frames) {
        r.shown = r.file.frames
        show(busId, r, 'running')
      }
    }
  }, flushEveryMs)
  timer.unref()

  function stop(busId: string, r: Running): void {
    running.delete(busId)
    const ended = r.file.end(w.clock.stamp())
    show(busId, r, ended.ok ? 'ended' : 'failed', ended.ok ? undefined : ended.failure)
  }

  return {
    follow(busId, bus) {
      bus.onTap((frame) => running.get(busId)?.file.note(frame))
    },
    calls: {
      async 'bus.tap-start'({ busId }) {
        const bus = busOf(w, busId)
        if (!bus) return refuse(`There is no bus ${busId} in this job.`, 'busId')
        if (running.has(busId)) return refuse(`The frames of ${bus.name} are being saved already.`, 'busId')
        const { job, path } = w.store
        const startedAt = w.clock.stamp()
        const link: FrameFileHeader['link'] = isModbusTcp(bus) ? 'tcp' : 'rtu'
        const about = {
          job: job.name,
          bus: bus.name,
          busId,
          link,
          simulated: job.simulated,
          by: w.session.by,
          anchor: w.session.anchor,
          startedAt,
        }
        const file = startFrameFile(join(companion(path), 'taps'), about)
        if (!file.ok) return refuse(`Frames are not saved: ${file.failure}`, companion(path))
        const r = { file: file.value, startedAt, shown: 0 }
        running.set(busId, r)
        show(busId, r, 'running')
        return ok({ file: r.file.name })
      },
      async 'bus.tap-stop'({ busId }) {
        const r = running.get(busId)
        if (!r) return refuse('The frames of this bus are not being saved.', 'busId')
        stop(busId, r)
        return ok({ file: r.file.name })
      },
    },
    close() {
      clearInterval(timer)
      for (const [busId, r] of [...running]) stop(busId, r)
    },
  }
}
