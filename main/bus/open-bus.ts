import { type BusFailure, explainBusFailure } from '../../app/contract/bus-failure.ts'
import type { BusView } from '../../app/contract/views.ts'
import type { RealLink } from '../../app/job/schema.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { type BusClock, pause, systemClock } from './bus-clock.ts'
import { hex } from './hex.ts'
import { foreignRequest } from './listening.ts'
import { openModbusTcpLink } from './modbus-tcp-link.ts'
import type { Link, Outcome, Request, TappedFrame } from './request.ts'
import { openRtuLink } from './rtu-link.ts'
import { createScheduler, type RequestOptions } from './scheduler.ts'
import { serialStream } from './serial-stream.ts'
import { tcpStream } from './tcp-stream.ts'

/** Before the first byte leaves on a serial line. A master that polls more seldom is caught later, by going on listening. */
const firstListenMs = 2_000

export type OpenBus = {
  request(unit: number, request: Request, options: RequestOptions): Promise<Outcome>
  /** Halts at once; `resume` also takes back a halt caused by another master. */
  stop(): void
  resume(): void
  view(): BusView
  onChange(listener: () => void): () => void
  onTap(listener: (frame: TappedFrame) => void): () => void
  close(): Promise<void>
}

export type BusOptions = {
  clock?: BusClock
  listenMs?: number
  /** Told when listening begins, before the bus is there. */
  onListening?: () => void
}

/** Opens one bus: link, first listening, scheduler. Nothing is sent while listening; another master's request fails the opening. */
export async function openBus(bus: { link: RealLink }, options: BusOptions = {}): Promise<Result<OpenBus, BusFailure>> {
  const clock = options.clock ?? systemClock
  const opened = await openLink(bus.link, clock)
  if (!opened.ok) return fail({ kind: 'link-down', why: opened.failure })
  const link = opened.value
  const open = watch(link, clock)
  if (bus.link.kind === 'serial') {
    options.onListening?.()
    await pause(clock, options.listenMs ?? firstListenMs)
  }
  return ok(open)
}

function openLink(link: RealLink, clock: BusClock): Promise<Result<Link, string>> {
  switch (link.kind) {
    case 'serial':
      return openRtuLink(serialStream(link.path, link.format), link.format, clock)
    case 'rtu-over-tcp':
      return openRtuLink(tcpStream(link.host, link.port), link.format, clock)
    case 'modbus-tcp':
      return openModbusTcpLink(link.host, link.port, clock)
  }
}

function watch(link: Link, clock: BusClock): OpenBus {
  const listeners = new Set<() => void>()
  const changed = () => {
    for (const listener of listeners) listener()
  }
  let sinceChange = 0
  const scheduler = createScheduler(link, clock, () => {
    // Figures move with every answer; people need them a few times a second.
    if (clock.now() - sinceChange < 250) return
    sinceChange = clock.now()
    changed()
  })
  const sent: string[] = []
  link.onTap((frame) => {
    if (frame.direction !== 'sent') return
    sent.push(hex(frame.bytes))
    if (sent.length > 20) sent.shift()
  })
  link.onUnasked((bytes) => {
    const request = foreignRequest(bytes, (frame) => repeatsRequest(frame) && sent.includes(hex(frame)))
    if (!request) return
    scheduler.halt({ kind: 'other-master', bytes: hex(request) })
    changed()
  })
  link.onState(changed)

  return {
    request: (unit, request, options) => scheduler.request(unit, request, options),
    stop() {
      if (!scheduler.halted()) scheduler.halt({ kind: 'stopped' })
      changed()
    },
    resume() {
      scheduler.resume()
      changed()
    },
    view() {
      const figures = scheduler.figures()
      const halted = scheduler.halted()
      if (link.state.kind === 'down') return { state: 'down', why: link.state.why, ...figures }
      if (link.state.kind === 'closed') return { state: 'closed', ...figures }
      return halted ? { state: 'halted', why: explainBusFailure(halted), ...figures } : { state: 'open', ...figures }
    },
    onChange(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    onTap: (listener) => link.onTap(listener),
    async close() {
      scheduler.halt({ kind: 'link-down', why: 'the bus was closed' })
      await link.close()
      changed()
    },
  }
}

/** Functions 05, 06 and 22 are answered with the request itself, so a late answer to ours looks like a request. */
const repeatsRequest = (frame: Uint8Array) => frame[1] === 5 || frame[1] === 6 || frame[1] === 22
