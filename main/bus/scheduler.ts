import type { BusFailure } from '../../app/contract/bus-failure.ts'
import { fail } from '../../app/result.ts'
import type { BusClock } from './bus-clock.ts'
import { onlyReads } from './pdu.ts'
import type { Link, Outcome, Request } from './request.ts'
import { type UnitHealth, unitHealth } from './unit-health.ts'

export const priorities = ['user', 'capture', 'live'] as const
export type Priority = (typeof priorities)[number]
export type RequestOptions = { priority: Priority; answerMs: number; signal?: AbortSignal }

type Waiting = { unit: number; request: Request; options: RequestOptions; settle(outcome: Outcome): void }

/** Figures of one bus, measured. */
export type BusFigures = { answering: number; silent: number; answerMs?: number }

/**
 * One request in flight on one bus. User actions go before captures, captures before live polling; within a priority the
 * indicator served longest ago goes first. A unit that does not answer is set aside and probed now and then, at once for a user.
 */
export function createScheduler(link: Pick<Link, 'transact'>, clock: BusClock, onSettled: () => void = () => {}) {
  const waiting: Record<Priority, Waiting[]> = { user: [], capture: [], live: [] }
  const units = new Map<number, UnitHealth>()
  const served = new Map<number, number>()
  let turn = 0
  let running = false
  let halted: BusFailure | null = null

  const healthOf = (unit: number): UnitHealth => {
    const known = units.get(unit) ?? unitHealth(clock)
    units.set(unit, known)
    return known
  }

  function next(): Waiting | undefined {
    for (const priority of priorities) {
      const queue = waiting[priority]
      let best = 0
      for (let i = 1; i < queue.length; i++) if ((served.get(queue[i]?.unit ?? 0) ?? 0) < (served.get(queue[best]?.unit ?? 0) ?? 0)) best = i
      const [chosen] = queue.splice(best, 1)
      if (chosen) return chosen
    }
    return undefined
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

  async function serve({ unit, request, options }: Waiting): Promise<Outcome> {
    if (halted) return fail(halted)
    if (options.signal?.aborted) return fail({ kind: 'stopped' })
    const health = healthOf(unit)
    const rests = options.priority === 'user' ? null : health.restsFor()
    if (rests !== null) return fail({ kind: 'set-aside', nextProbeInMs: rests })
    served.set(unit, ++turn)
    const isProbe = health.isSetAside() && options.priority !== 'user'
    const first = await ask(unit, request, isProbe ? health.probeWaitMs(options.answerMs) : options.answerMs, health)
    const mayRepeat = !first.ok && isTransmissionFault(first.failure) && onlyReads(request) && !isProbe && !halted && !options.signal?.aborted
    if (!mayRepeat) return first
    const second = await ask(unit, request, options.answerMs, health)
    return !second.ok && second.failure.kind === 'no-reply' ? fail({ ...second.failure, tries: 2 }) : second
  }

  async function ask(unit: number, request: Request, answerMs: number, health: UnitHealth): Promise<Outcome> {
    const outcome = await link.transact(unit, request, answerMs)
    if (outcome.ok) health.answered(outcome.value.tookMs)
    else if (outcome.failure.kind === 'refused') health.answered(answerMs)
    else if (outcome.failure.kind === 'no-reply') health.silent(outcome.failure.waitedMs)
    return outcome
  }

  function settleAll(failure: BusFailure): void {
    for (const priority of priorities) for (const job of waiting[priority].splice(0)) job.settle(fail(failure))
  }

  return {
    request(unit: number, request: Request, options: RequestOptions): Promise<Outcome> {
      if (halted) return Promise.resolve(fail(halted))
      return new Promise((settle) => {
        waiting[options.priority].push({ unit, request, options, settle })
        void run()
      })
    },
    /** Nothing is sent from now on; what waits is settled at once, what is on the wire ends by itself. */
    halt(because: BusFailure): void {
      halted = because
      settleAll(because)
    },
    resume(): void {
      halted = null
    },
    halted: () => halted,
    figures(): BusFigures {
      const all = [...units.values()]
      const times = all.flatMap((u) => u.times()).sort((a, b) => a - b)
      const median = times[Math.floor(times.length / 2)]
      return { answering: all.filter((u) => u.state() === 'answering').length, silent: all.filter((u) => u.state() === 'silent').length, ...(median === undefined ? {} : { answerMs: median }) }
    },
  }
}

/** Faults of the way, not answers: a read may be asked once more. */
const isTransmissionFault = (failure: BusFailure) => failure.kind === 'no-reply' || failure.kind === 'garbled' || failure.kind === 'foreign'

export type Scheduler = ReturnType<typeof createScheduler>
