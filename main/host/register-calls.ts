import { type BusFailure, explainBusFailure } from '../../app/contract/bus-failure.ts'
import type { Handlers } from '../../app/contract/contract.ts'
import type { UnitAt } from '../../app/contract/describe-calls.ts'
import { ok, type Result } from '../../app/result.ts'
import type { OpenBus } from '../bus/open-bus.ts'
import { probeLongestRead } from '../indicator/probe-longest-read.ts'
import { longestRead, type ViewedPiece, viewBlock } from '../indicator/view-registers.ts'
import { refuse } from './refusals.ts'
import { createRegisterSearch } from './register-search.ts'
import { busOf, type World } from './world.ts'

type RegisterCalls = Pick<
  Handlers,
  'registers.view' | 'registers.search' | 'registers.search-again' | 'registers.probe-longest' | 'registers.cancel'
>

/** An indicator that nothing is known of is given this long, in ms. */
const unknownAnswerMs = 1_000
/** Shapes of blocks that are remembered for looking again; the oldest go first. */
const remembered = 50

/** How one unit may be read: by its profile where it has one, else as carefully as can be. */
export type ReadingRules = { answerMs: number; pauseMs: number; longest: number }
export type ReachedUnit = { bus: OpenBus; rules: ReadingRules }

/** Looking at registers of any unit of an open bus. Only reads. */
export function registerCalls(w: World): RegisterCalls {
  const shapes = new Map<string, ViewedPiece[]>()
  const longestOf = new Map<string, number>()
  const running = new Map<string, AbortController>()

  function reach({ busId, unit }: UnitAt): Result<ReachedUnit, BusFailure | ReturnType<typeof refuse>['failure']> {
    const { job } = w.store
    if (!busOf(w, busId)) return refuse(`There is no bus ${busId} in this job.`, 'busId')
    const bus = w.buses.get(busId)
    if (!bus) return refuse('The bus is not open. Open it first.', 'busId')
    const known = job.indicators.find((i) => i.busId === busId && i.unit === unit)
    if (known && w.sessions.get(known.id)?.view().writing)
      return refuse(`Settings are being written to ${known.name}; look at its registers afterwards.`, 'unit')
    const requests = known && w.profiles.get(known.profileId)?.requests
    return ok({
      bus,
      rules: {
        answerMs: requests?.answerMs ?? unknownAnswerMs,
        pauseMs: requests?.pauseMs ?? 0,
        longest: Math.min(requests?.longestRead ?? longestRead, longestOf.get(`${busId}/${unit}`) ?? longestRead),
      },
    })
  }

  /** One search or probe a unit at a time, with its end within reach. */
  async function alone<T>(at: UnitAt, work: (signal: AbortSignal) => Promise<T>): Promise<T | ReturnType<typeof refuse>> {
    const key = `${at.busId}/${at.unit}`
    if (running.has(key)) return refuse('A search of this unit is under way; cancel it or wait for its end.', 'unit')
    const control = new AbortController()
    running.set(key, control)
    try {
      return await work(control.signal)
    } finally {
      running.delete(key)
    }
  }

  const search = createRegisterSearch(w)

  return {
    async 'registers.view'({ busId, unit, table, from, count, again }) {
      const reached = reach({ busId, unit })
      if (!reached.ok) return reached
      const { bus, rules } = reached.value
      const key = [busId, unit, table, from, count].join('/')
      const known = again ? shapes.get(key) : undefined
      const seen = await viewBlock(bus, unit, {
        ...rules,
        pause: w.clock.pause,
        table,
        address: from,
        count,
        priority: again ? 'live' : 'user',
        ...(known ? { known } : {}),
      })
      if (!seen.ok) return seen
      shapes.delete(key)
      shapes.set(key, seen.value.pieces)
      for (const oldest of [...shapes.keys()].slice(0, -remembered)) shapes.delete(oldest)
      if (table === 'holding' || table === 'input') longestOf.set(`${busId}/${unit}`, seen.value.longest)
      return ok({ words: seen.value.words, at: w.clock.stamp() })
    },

    async 'registers.search'(request) {
      const { busId, unit, from, to, display } = request
      if (to < from) return refuse(`The range ends at ${to}, before it begins at ${from}.`, 'to')
      if (Number(display) === 0)
        return refuse('Every empty register agrees with 0. Put a load on first, and say what the display shows then.', 'display')
      const reached = reach({ busId, unit })
      if (!reached.ok) return reached
      return alone(request, (signal) => search.first(request, reached.value, signal))
    },

    async 'registers.search-again'(request) {
      const reached = reach(request)
      if (!reached.ok) return reached
      if (!search.has(request)) return refuse('There is nothing to look at again: search once first.', 'unit')
      return alone(request, (signal) => search.again(request, reached.value, signal))
    },

    async 'registers.probe-longest'(request) {
      const { busId, unit, table, from } = request
      const reached = reach({ busId, unit })
      if (!reached.ok) return reached
      const { bus, rules } = reached.value
      return alone(request, async (signal) => {
        const found = await probeLongestRead(bus, unit, { table, address: from, answerMs: rules.answerMs, signal })
        if (!found.ok) return found
        const { longest, refused } = found.value
        if (!refused) return ok({ longest })
        const { count, because } = refused
        // Exception 02 is given for a request that reaches beyond the registers as well as by some for one that is too long.
        const perhapsNoMoreRegisters = because.kind === 'refused' && because.code === 2
        return ok({ longest, refused: { count, why: explainBusFailure(because), perhapsNoMoreRegisters } })
      })
    },

    async 'registers.cancel'({ busId, unit }) {
      const control = running.get(`${busId}/${unit}`)
      if (!control) return refuse('Nothing of this unit is under way.', 'unit')
      control.abort()
      return ok({})
    },
  }
}
