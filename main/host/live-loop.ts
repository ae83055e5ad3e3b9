import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { LiveSample, LiveView } from '../../app/contract/views.ts'
import { isChange, noise, steadiness, type TimedValue } from '../../app/evaluation/steadiness.ts'
import { readLive } from '../indicator/live-read.ts'
import { showBus } from './attach-bus.ts'
import { isMet, meet } from './meet.ts'
import { createPollRate, type PollRate } from './poll-rate.ts'
import { indicatorOf, pointOf, pointsOn, type World } from './world.ts'

const keptMs = 10_000
const steadyMs = 2_000
const noiseMs = 5_000
const viewEveryMs = 200
/** A rate is measured over this long. */
const rateMs = 5_000
const batchEveryMs = 50
/** An indicator that gives readings and does not say who it is is not asked again sooner. */
const meetEveryMs = 5_000
/** No indicator is polled faster than this: most convert 10 to 100 times a second. */
const fastestPollMs = 50

/** What a single poll may meet though the unit is there. */
const mayPass: readonly BusFailure['kind'][] = ['no-reply', 'garbled', 'foreign', 'set-aside']

type History = {
  readings: TimedValue[]
  signals: TimedValue[]
  texts: { at: number; reading: string }[]
  last: LiveSample | null
  shownAt: number
}

/** Polls the points in use, tells renderers in batches, and remembers the last seconds for steadiness and captures. */
export function createLiveLoop(w: World) {
  const histories = new Map<string, History>()
  const wanted = new Set<string>()
  const running = new Map<string, Promise<void>>()
  let batch: LiveSample[] = []
  /** Times of complete live readings of the last seconds, by indicator. */
  const polls = new Map<string, number[]>()
  const rates = new Map<string, PollRate>()
  const meetAgainAt = new Map<string, number>()
  let closed = false

  const flush = setInterval(() => {
    if (batch.length === 0) return
    w.topics.send({ kind: 'samples', samples: batch })
    batch = []
  }, batchEveryMs)
  flush.unref()

  const historyOf = (pointId: string): History => {
    const found = histories.get(pointId) ?? { readings: [], signals: [], texts: [], last: null, shownAt: 0 }
    histories.set(pointId, found)
    return found
  }

  function keep(sample: LiveSample): void {
    const h = historyOf(sample.pointId)
    h.last = sample
    if (sample.reading !== null) {
      push(h.readings, { at: sample.at, value: Number(sample.reading) }, keptMs)
      push(h.texts, { at: sample.at, reading: sample.reading }, keptMs)
    }
    if (sample.signal !== null) push(h.signals, { at: sample.at, value: Number(sample.signal) }, keptMs)
    batch.push(sample)
    if (sample.at - h.shownAt < viewEveryMs) return
    h.shownAt = sample.at
    const { steady } = steadyNow(sample.pointId)
    show(sample.pointId, {
      state: 'fresh',
      sample,
      steady: steady && !sample.status.includes('motion'),
      noiseSignal: settled(h, sample.pointId) ? noise(h.signals, noiseMs) : null,
    })
  }

  /** Whether the signal of the noise window only scatters, and holds no load being put on. */
  const settled = (h: History, pointId: string) => steadiness(h.readings, noiseMs, bandOf(pointId)).steady || !isChange(h.signals, noiseMs)

  const show = (pointId: string, view: LiveView) => w.topics.set('live', pointId, view)

  /** Tells that a point has no reading now, and whether so: one lost answer is nothing as long as the next reading is not yet due. */
  function lose(pointId: string, because: BusFailure): boolean {
    const h = historyOf(pointId)
    if (h.last) {
      const ageMs = Math.max(0, w.clock.now() - h.last.at)
      const missed = rateOf(pointOf(w, pointId)?.indicatorId ?? '').missed(ageMs)
      if (missed === 0 && mayPass.includes(because.kind)) return false
      show(pointId, { state: 'stale', sample: h.last, ageMs, missed, because })
    } else show(pointId, { state: 'never-read', because })
    h.readings = []
    h.signals = []
    h.texts = []
    return true
  }

  function rateOf(indicatorId: string): PollRate {
    const rate = rates.get(indicatorId) ?? createPollRate()
    rates.set(indicatorId, rate)
    return rate
  }

  const bandOf = (pointId: string) => Number(pointOf(w, pointId)?.scaleInterval ?? '0')

  function steadyNow(pointId: string) {
    return steadiness(historyOf(pointId).readings, steadyMs, bandOf(pointId))
  }

  /** Poll times of an indicator within the last `rateMs`; older ones are forgotten. */
  function pollsLately(indicatorId: string): number[] {
    const times = polls.get(indicatorId) ?? []
    const since = w.clock.now() - rateMs
    while (times[0] !== undefined && times[0] <= since) times.shift()
    polls.set(indicatorId, times)
    return times
  }

  async function pollIndicator(indicatorId: string): Promise<void> {
    while (!closed) {
      // Looked up anew: an edit of the indicator makes another session.
      const session = w.sessions.get(indicatorId)
      if (!session) return
      const channels = pointsOn(w, indicatorId)
        .filter((p) => wanted.has(p.id))
        .map((p) => ({ pointId: p.id, channel: p.channel }))
      const busId = indicatorOf(w, indicatorId)?.busId
      if (channels.length === 0 || busId === undefined) return
      if (!w.buses.has(busId)) {
        for (const c of channels) lose(c.pointId, { kind: 'link-down', why: w.taken.has(busId) ? 'the bus is taken' : 'the bus is closed' })
        return
      }
      const began = w.clock.now()
      if (session.view().writing) {
        await w.clock.pause(fastestPollMs)
        continue
      }
      const read = await readLive(session.io, channels, session.view().held, 'live')
      if (closed) return
      if (read.ok) {
        pollsLately(indicatorId).push(w.clock.now())
        rateOf(indicatorId).answered(w.clock.now())
        for (const sample of read.value) keep(sample)
      }
      const lost = !read.ok && channels.map((c) => lose(c.pointId, read.failure)).includes(true)
      if ((read.ok || lost) && session.heardLive(read.ok ? 'yes' : read.failure)) showBus(w, busId)
      if (read.ok) await meetLate(indicatorId)
      const spare = fastestPollMs - (w.clock.now() - began)
      await w.clock.pause(read.ok ? Math.max(0, spare) : Math.max(200, spare))
    }
  }

  /** One that was silent when its bus was opened is met once it answers. */
  async function meetLate(indicatorId: string): Promise<void> {
    const indicator = indicatorOf(w, indicatorId)
    if (!indicator || isMet(w, indicatorId) || w.clock.now() < (meetAgainAt.get(indicatorId) ?? 0)) return
    meetAgainAt.set(indicatorId, w.clock.now() + meetEveryMs)
    await meet(w, indicator)
  }

  return {
    /** Points to be polled from now on; the others rest. */
    want(pointIds: readonly string[]): void {
      wanted.clear()
      for (const pointId of pointIds) {
        wanted.add(pointId)
        const indicatorId = pointOf(w, pointId)?.indicatorId
        if (indicatorId === undefined || running.has(indicatorId)) continue
        running.set(
          indicatorId,
          pollIndicator(indicatorId).finally(() => running.delete(indicatorId)),
        )
      }
    },
    wanted: () => [...wanted],
    steadyNow,
    /** Complete live readings per second of one indicator of a bus, the slowest; undefined until there are some. */
    rateOn(busId: string): number | undefined {
      const rates = w.store.job.indicators
        .filter((i) => i.busId === busId)
        .map((i) => pollsLately(i.id).length / (rateMs / 1000))
        .filter((rate) => rate > 0)
      return rates.length === 0 ? undefined : Math.min(...rates)
    },
    /** Mean signal of the last two seconds; NaN where there is none. */
    meanSignal: (pointId: string) => steadiness(historyOf(pointId).signals, steadyMs, Number.POSITIVE_INFINITY).mean,
    last: (pointId: string) => histories.get(pointId)?.last ?? null,
    /** The readings of the last two seconds as the indicator gave them, oldest first; what a capture stands on. */
    captured(pointId: string): string[] {
      const { texts } = historyOf(pointId)
      const end = texts.at(-1)?.at ?? 0
      return texts.filter((t) => t.at > end - steadyMs).map((t) => t.reading)
    },
    async close(): Promise<void> {
      closed = true
      clearInterval(flush)
      await Promise.all(running.values())
    },
  }
}

export type LiveLoop = ReturnType<typeof createLiveLoop>

function push<T extends { at: number }>(list: T[], item: T, keepMs: number): void {
  list.push(item)
  while (list[0] && list[0].at < item.at - keepMs) list.shift()
}
