import { dirname, join } from 'node:path'
import { explainBusFailure } from '../../app/contract/bus-failure.ts'
import type { Handlers, TopicValue } from '../../app/contract/contract.ts'
import type { Point } from '../../app/job/schema.ts'
import { ok } from '../../app/result.ts'
import { companion } from '../files/job-store.ts'
import { type Recording, startRecording } from '../files/recording.ts'
import type { LiveLoop } from './live-loop.ts'
import { refuse } from './refusals.ts'
import { indicatorOf, pointOf, type World } from './world.ts'

const flushEveryMs = 1_000

type Running = { recording: Recording; startedAt: string; lost: boolean }

export type Recorder = {
  calls: Pick<Handlers, 'record.start' | 'record.stop'>
  /** Points that must stay polled. */
  pointIds(): string[]
  /** Ends every recording. */
  close(): void
}

/** Recordings follow the same samples that every renderer is sent. */
export function createRecorder(w: World, live: LiveLoop): Recorder {
  const running = new Map<string, Running>()
  const show = (pointId: string, r: Running, state: 'recording' | 'ended' | 'failed', why?: string) =>
    w.topics.set('recording', pointId, {
      state,
      file: r.recording.file,
      startedAt: r.startedAt,
      rows: r.recording.rows,
      ...(why === undefined ? {} : { why }),
    })

  const unsubscribe = w.topics.subscribe((message) => {
    if (message.kind === 'samples') {
      for (const sample of message.samples) {
        const r = running.get(sample.pointId)
        if (!r) continue
        r.recording.note(sample)
        r.lost = false
      }
    } else if (message.kind === 'topic' && message.topic === 'live' && message.key !== undefined) {
      const view = message.value as TopicValue<'live'>
      const r = running.get(message.key)
      if (!r || r.lost || view.state !== 'stale') return
      r.lost = true
      r.recording.gap(view.sample.at + view.ageMs, explainBusFailure(view.because))
    }
  })

  function flush(): void {
    for (const [pointId, r] of running) {
      const flushed = r.recording.flush()
      if (!flushed.ok) running.delete(pointId)
      show(pointId, r, flushed.ok ? 'recording' : 'failed', flushed.ok ? undefined : flushed.failure)
    }
  }
  const timer = setInterval(flush, flushEveryMs)
  timer.unref()

  function stop(pointId: string): string {
    const r = running.get(pointId)
    if (!r) return ''
    running.delete(pointId)
    const ended = r.recording.end(w.clock.stamp())
    show(pointId, r, ended.ok ? 'ended' : 'failed', ended.ok ? undefined : ended.failure)
    return r.recording.file
  }

  return {
    pointIds: () => [...running.keys()],
    calls: {
      async 'record.start'({ pointIds }) {
        const points = pointIds.map((pointId) => pointOf(w, pointId))
        const unknown = pointIds.find((_, i) => !points[i])
        if (unknown !== undefined) return refuse(`There is no measuring point ${unknown} in this job.`, 'pointIds')
        const twice = points.find((p) => p && running.has(p.id))
        if (twice) return refuse(`${twice.tag} is being recorded already.`, 'pointIds')
        if (new Set(pointIds).size !== pointIds.length) return refuse('A point is named twice.', 'pointIds')
        const started: string[] = []
        for (const point of points) {
          if (!point) continue
          const recording = startRecording(join(companion(w.store.path), 'recordings'), headerOf(w, point))
          if (!recording.ok) {
            for (const pointId of started) stop(pointId)
            return refuse(`Not recording: ${recording.failure}`, dirname(w.store.path))
          }
          const r = { recording: recording.value, startedAt: w.clock.stamp(), lost: false }
          running.set(point.id, r)
          started.push(point.id)
          show(point.id, r, 'recording')
        }
        live.want([...new Set([...live.wanted(), ...pointIds])])
        return ok({ files: started.map((pointId) => running.get(pointId)?.recording.file ?? '') })
      },

      async 'record.stop'({ pointIds }) {
        const idle = pointIds.find((pointId) => !running.has(pointId))
        if (idle !== undefined) return refuse(`${pointOf(w, idle)?.tag ?? idle} is not being recorded.`, 'pointIds')
        return ok({ files: pointIds.map(stop).filter((file) => file !== '') })
      },
    },
    close() {
      clearInterval(timer)
      unsubscribe()
      for (const pointId of [...running.keys()]) stop(pointId)
    },
  }
}

function headerOf(w: World, point: Point) {
  const { job } = w.store
  const indicator = point.indicatorId === undefined ? undefined : indicatorOf(w, point.indicatorId)
  return {
    job: job.name,
    point: point.tag,
    pointId: point.id,
    unit: point.unit,
    indicator: indicator?.name ?? '',
    profile: indicator?.profileId ?? '',
    simulated: job.simulated,
    by: w.session.by,
    anchor: w.session.anchor,
    startedAt: w.clock.stamp(),
  }
}
