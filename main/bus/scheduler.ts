import { type BusFailure, isFromGateway } from '../../app/contract/bus-failure.ts'
import { fail } from '../../app/result.ts'
import { type BusClock, pause } from './bus-clock.ts'
import { onlyReads } from './pdu.ts'
import type { Link, Outcome, Request } from './request.ts'
import { type UnitHealth, unitHealth } from './unit-health.ts'

export const priorities = ['user', 'capture', 'live'] as const
export type Priority = (typeof priorities)[number]
/** `answerMs` is the profile's answer time, `pauseMs` what this unit needs after its last answer, whoever asked then. An aborted `signal` settles the request as `stopped` as long as it was not sent. */
export type RequestOptions = { priority: Priority; answerMs: number; pauseMs?: number; signal?: AbortSignal }

type Waiting = { unit: number; request: Request; options: RequestOptions; settle(outcome: Outcome): void }

/** Figures of one bus, measured. */
export type BusFigures = { answering: number; silent: number; answerMs?: number }

export type Scheduler = {
  request(unit: number, request: Request, options: RequestOptions): Promise<Outcome>
  /** Nothing is sent from now on: what waits is settled at once, what is on the wire ends by itself. */
  halt(because: BusFailure): void
  resume(): void
  halted(): BusFailure | null
  /** Lets requests wait without settling them, as while the line is being listened to. */
  hold(): void
  release(): void
  figures(): BusFigures
}

/**
 * One request in flight on one bus. User actions go before captures, captures before live polling; within a priority the
 * indicator served longest ago goes first. A unit that does not answer is set aside and probed now and then; for a user it is asked
 * at once, like any other.
 * Reads are asked once more after a fault of the way; writes never, since they may have been done.
 */
export function createScheduler(link: Pick<Link, 'transact'>, clock: BusClock, onSettled: () => void = () => {}): Scheduler {
  const queue: Waiting[] = []
  const units = new Map<number, UnitHealth>()
  const served = new Map<number, number>()
  const spokeAt = new Map<number, number>()
  let turn = 0
  let running = false
  let held = false
  let halted: BusFailure | null = null

  const healthOf = (unit: number): UnitHealth => {
    const known = units.get(unit) ?? unitHealth(clock)
    units.set(unit, known)
    return known
  }

  function next(): Waiting | undefined {
    if (held) return undefined
    const rank = ({ options, unit }: Waiting) => [priorities.indexOf(options.priority), served.get(unit) ?? 0] as const
    let best: Waiting | undefined
    for (const job of queue) {
      if (!best) best = job
      const [priority, last] = rank(job)
      const [bestPriority, bestLast] = rank(best)
      if (priority < bestPriority || (priority === bestPriority && last < bestLast)) best = job
    }
    if (best) queue.splice(queue.indexOf(best), 1)
    return best
  }

  async function run(): Promise<void> {
    if (running) return
    running = true
    try {
      for (let job = next(); job; job = next()) {
        job.settle(await serve(job))
        onSettled()
      }
    } finally {
      running = false
    }
  }

  async function serve(job: Waiting): Promise<Outcome> {
    const { unit, options } = job
    const health = healthOf(unit)
    const restsMs = options.priority === 'user' ? null : health.restsFor()
    if (restsMs !== null) return fail({ kind: 'set-aside', nextProbeInMs: restsMs })
    served.set(unit, ++turn)
    // A user waits for the whole answer time, and for a second try: a unit must not be called silent after a shortened look.
    const isProbe = options.priority !== 'user' && health.isSetAside()
    const first = await ask(job, isProbe ? health.probeWaitMs(options.answerMs) : options.answerMs, health)
    if (first.ok || isProbe || !isFaultOfTheWay(first.failure) || !onlyReads(job.request) || !maySend(job)) return first
    const second = await ask(job, options.answerMs, health)
    if (second.ok || second.failure.kind !== 'no-reply') return second
    const waitedMs = second.failure.waitedMs + (first.failure.kind === 'no-reply' ? first.failure.waitedMs : 0)
    return fail({ ...second.failure, waitedMs, tries: 2 })
  }

  const maySend = ({ options }: Waiting) => !halted && !options.signal?.aborted

  async function ask(job: Waiting, answerMs: number, health: UnitHealth): Promise<Outcome> {
    const pauseMs = (spokeAt.get(job.unit) ?? Number.NEGATIVE_INFINITY) + (job.options.pauseMs ?? 0) - clock.now()
    if (pauseMs > 0) await pause(clock, pauseMs)
    const outcome = await link.transact(job.unit, job.request, answerMs, () => maySend(job))
    spokeAt.set(job.unit, clock.now())
    if (outcome.ok) health.answered(outcome.value.tookMs, outcome.value.ownMs)
    // A line then rests as long again for a late answer: that is part of what the silence costs.
    else if (outcome.failure.kind === 'no-reply') health.silent(outcome.failure.waitedMs + answerMs, job.options.answerMs)
    else if (outcome.failure.kind === 'refused') {
      if (isFromGateway(outcome.failure)) health.silent(answerMs, job.options.answerMs)
      else health.answered()
    } else if (outcome.failure.kind === 'stopped' && halted) return fail(halted)
    return outcome
  }

  return {
    request(unit, request, options) {
      if (halted) return Promise.resolve(fail(halted))
      if (options.signal?.aborted) return Promise.resolve(fail({ kind: 'stopped' }))
      return new Promise((resolve) => {
        const abort = () => {
          const at = queue.indexOf(job)
          if (at < 0) return
          queue.splice(at, 1)
          job.settle(fail({ kind: 'stopped' }))
        }
        const job: Waiting = {
          unit,
          request,
          options,
          settle(outcome) {
            options.signal?.removeEventListener('abort', abort)
            resolve(outcome)
          },
        }
        options.signal?.addEventListener('abort', abort)
        queue.push(job)
        void run()
      })
    },
    halt(because) {
      halted = because
      for (const job of queue.splice(0)) job.settle(fail(because))
    },
    resume() {
      halted = null
    },
    halted: () => halted,
    hold() {
      held = true
    },
    release() {
      held = false
      void run()
    },
    figures() {
      const all = [...units.values()]
      const count = (state: string) => all.filter((u) => u.state() === state).length
      const answerMs = median(all.flatMap((u) => u.times()))
      return { answering: count('answering'), silent: count('silent'), ...(answerMs === undefined ? {} : { answerMs }) }
    },
  }
}

/** Faults of the way, not answers: a read may be asked once more. */
const isFaultOfTheWay = (failure: BusFailure) => failure.kind === 'no-reply' || failure.kind === 'garbled' || failure.kind === 'foreign'

function median(values: readonly number[]): number | undefined {
  const sorted = [...values].sort((a, b) => a - b)
  const upper = sorted[Math.floor(sorted.length / 2)]
  const lower = sorted[Math.ceil(sorted.length / 2) - 1]
  return upper === undefined || lower === undefined ? undefined : (upper + lower) / 2
}
