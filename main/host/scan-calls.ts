import type { ScanView } from '../../app/contract/bus-calls.ts'
import { explainBusFailure } from '../../app/contract/bus-failure.ts'
import type { Handlers, HostCalls } from '../../app/contract/contract.ts'
import { isModbusTcp } from '../../app/job/indicator-rules.ts'
import type { Bus } from '../../app/job/schema.ts'
import type { SerialFormat } from '../../app/profile/schema.ts'
import { ok } from '../../app/result.ts'
import { firstListenMs, type OpenBus } from '../bus/open-bus.ts'
import { longestScanMs, planScan, type ScanStage, scan } from '../bus/scan.ts'
import { usualFormats } from '../bus/usual-formats.ts'
import { identify } from '../indicator/identify.ts'
import { unitIo } from '../indicator/unit-io.ts'
import { lineFormatOf } from './line-format.ts'
import { refuse } from './refusals.ts'
import { busOf, type World } from './world.ts'

type Wanted = HostCalls['bus.scan']['request']
type Running = { stop: AbortController; ended: Promise<void> }

export type Scanner = {
  calls: Pick<Handlers, 'bus.scan' | 'bus.scan-stop'>
  /** Nothing more is sent by any scan. */
  stopAll(): void
  close(): Promise<void>
}

/** Unless the bus says otherwise, or is a bus of the bench: 19,200 even 1. Source: MODBUS over Serial Line V1.02, 2.2 and 2.5.1. */
const standard: SerialFormat = { baud: 19_200, parity: 'even', stopBits: 1 }

/** Looks for units on a bus of the job, with reads only. `reopen` gives the bus back to the sessions. */
export function createScanner(w: World, reopen: (busId: string) => Promise<unknown>): Scanner {
  const running = new Map<string, Running>()
  let closing = false

  /** Which profiles fit, by their own tests; those without a test fit nothing. */
  async function fitting(bus: OpenBus, unit: number, signal: AbortSignal): Promise<string[]> {
    const fit: string[] = []
    // Nobody knows yet which model it is: it is given the longest pause that any of them needs.
    const pauseMs = Math.max(0, ...[...w.profiles.values()].map((p) => p.requests.pauseMs))
    for (const profile of w.profiles.values()) {
      await w.clock.pause(pauseMs)
      if (signal.aborted) break
      const known = await identify(unitIo(bus, unit, profile, (ms) => w.clock.pause(ms)))
      if (known.ok && known.value.outcome === 'confirmed') fit.push(profile.id)
    }
    return fit
  }

  async function run(bus: Bus, stages: ScanStage[], { answerMs }: Wanted, signal: AbortSignal, listenMs: number): Promise<() => void> {
    const tcp = isModbusTcp(bus)
    const shown = (format: SerialFormat) => (tcp ? null : format)
    const view: ScanView = {
      state: 'running',
      startedAt: w.clock.stamp(),
      trying: null,
      asked: 0,
      of: stages.reduce((sum, s) => sum + s.units.length, 0),
      atMostMs: longestScanMs(stages, { listenMs, answerMs }),
      leftMs: longestScanMs(stages, { listenMs, answerMs }),
      found: [],
      unclear: [],
      endedBy: null,
    }
    const show = (change: Partial<ScanView>) => w.topics.set('scan', bus.id, Object.assign(view, change) && { ...view })
    show({})
    /** An address where nobody may be is no silent unit: only those that answered are counted. */
    let tellBus = () => {}
    const result = await scan(stages, {
      async open(format) {
        const opened = await w.openBus(bus, tcp ? undefined : format)
        if (opened.ok) {
          tellBus = () => w.topics.set('bus', bus.id, { ...opened.value.view(), answering: view.found.length, silent: 0 })
          opened.value.onChange(() => tellBus())
          tellBus()
        }
        return opened
      },
      answerMs,
      listenMs,
      signal,
      identify: (open, unit) => fitting(open, unit, signal),
      onAsk: (asked, of, unit, format, leftMs) => show({ trying: { unit, format: shown(format) }, asked: asked - 1, of, leftMs }),
      onFound({ unit, format, ...found }) {
        show({ found: [...view.found, { ...found, unit, format: shown(format) }] })
        tellBus()
      },
    })
    const end: Partial<ScanView> = {
      state: 'ended',
      trying: null,
      asked: result.asked,
      leftMs: 0,
      unclear: result.unclear.map((u) => ({ unit: u.unit, format: shown(u.format), why: explainBusFailure(u.because) })),
      endedBy: result.endedBy && (result.endedBy.kind === 'stopped' ? 'It was stopped.' : explainBusFailure(result.endedBy)),
    }
    return () => show(end)
  }

  return {
    calls: {
      async 'bus.scan'(wanted) {
        const { busId, units, formats, profileId, answerMs } = wanted
        const bus = busOf(w, busId)
        if (!bus) return refuse(`There is no bus ${busId} in this job.`, 'busId')
        const profile = profileId === undefined ? undefined : w.profiles.get(profileId)
        if (profileId !== undefined && !profile) return refuse(`There is no profile ${profileId}.`, 'profileId')
        const taken = w.taken.get(busId)
        if (taken !== undefined) return refuse(`${bus.name} is ${taken}; end that first.`, 'busId')
        if (w.session.stopped) return refuse('Sending is stopped. Resume it first.')
        const writing = w.store.job.indicators.find((i) => i.busId === busId && w.sessions.get(i.id)?.view().writing)
        if (writing) return refuse(`${writing.name} is being written to; wait until that has ended.`, 'busId')
        const tcp = isModbusTcp(bus)
        const wrong = tcp ? undefined : units.find((unit) => unit < 1 || unit > 247)
        if (wrong !== undefined) return refuse('Units on a serial line have addresses from 1 to 247.', 'units')

        const own = lineFormatOf(bus.link) ?? standard
        const same = (f: SerialFormat) => f.baud === own.baud && f.parity === own.parity && f.stopBits === own.stopBits
        const tried = tcp || formats === 'as-set' ? [own] : [own, ...usualFormats().filter((f) => !same(f))]
        const { serial } = profile ?? {}
        const format = tcp ? own : serial && { baud: serial.baud, parity: serial.parity, stopBits: serial.stopBits }
        const stages = planScan({
          formats: tried,
          units: [...new Set(units)],
          ...(serial && format ? { first: { unit: serial.unit, format } } : {}),
        })
        const listenMs = tcp ? 0 : firstListenMs

        w.taken.set(busId, 'being scanned')
        const open = w.buses.get(busId)
        w.buses.delete(busId)
        const stop = new AbortController()
        const ended = (async () => {
          await open?.close()
          const tellEnd = await run(bus, stages, wanted, stop.signal, listenMs)
          running.delete(busId)
          w.taken.delete(busId)
          w.topics.set('bus', busId, { state: 'closed', answering: 0, silent: 0 })
          if (open && !closing) await reopen(busId)
          tellEnd()
        })()
        running.set(busId, { stop, ended })
        return ok({ atMostMs: longestScanMs(stages, { listenMs, answerMs }), of: stages.reduce((sum, s) => sum + s.units.length, 0) })
      },
      async 'bus.scan-stop'({ busId }) {
        const r = running.get(busId)
        if (!r) return refuse('This bus is not being scanned.', 'busId')
        r.stop.abort()
        await r.ended
        return ok({})
      },
    },
    stopAll() {
      for (const r of running.values()) r.stop.abort()
    },
    async close() {
      closing = true
      for (const r of running.values()) r.stop.abort()
      await Promise.all([...running.values()].map((r) => r.ended))
    },
  }
}
