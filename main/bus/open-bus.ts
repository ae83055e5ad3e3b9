import { type BusFailure, explainBusFailure } from '../../app/contract/bus-failure.ts'
import type { BusView } from '../../app/contract/views.ts'
import type { RealLink } from '../../app/job/schema.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { type BusClock, systemClock } from './bus-clock.ts'
import { hex } from './hex.ts'
import { createLineRemarks } from './line-remarks.ts'
import { createListening } from './listening.ts'
import { openModbusTcpLink } from './modbus-tcp-link.ts'
import type { Link, Outcome, Request, TappedFrame } from './request.ts'
import { openRtuLink } from './rtu-link.ts'
import { createScheduler, type RequestOptions } from './scheduler.ts'
import { serialStream } from './serial-stream.ts'
import { tcpStream } from './tcp-stream.ts'

/** Before the first byte leaves on a serial line, in ms. A master that polls more seldom is caught later, by going on listening. */
export const firstListenMs = 2_000
/** Figures move with every answer; people need them a few times a second. */
const figuresEveryMs = 250

export type OpenBus = {
  request(unit: number, request: Request, options: RequestOptions): Promise<Outcome>
  /** Halts at once: what waits is settled as `stopped`; what is on the wire ends by itself. */
  stop(): void
  /** Also takes back a halt caused by another master; the line is then listened to again first. */
  resume(): void
  /** Nothing is sent until the function given back is called; requests wait meanwhile. */
  hold(): () => void
  view(): BusView
  onChange(listener: () => void): () => void
  onTap(listener: (frame: TappedFrame) => void): () => void
  close(): Promise<void>
}

export type BusOptions = {
  clock?: BusClock
  /** Listening before the first byte, and again after the link was lost or another master heard; 2000 ms unless told otherwise. */
  listenMs?: number
}

/**
 * Opens one bus: link, listening, scheduler. It is there as soon as the port or socket is; requests wait while it is `listening`.
 * Fails with `link-down` where the port or socket cannot be opened now. Once open, a lost link is opened again by itself.
 */
export async function openBus(bus: { link: RealLink }, options: BusOptions = {}): Promise<Result<OpenBus, BusFailure>> {
  const clock = options.clock ?? systemClock
  const opened = await openLink(bus.link, clock)
  if (!opened.ok) return fail({ kind: 'link-down', why: opened.failure })
  return ok(runBus(opened.value, clock, bus.link.kind === 'modbus-tcp' ? 0 : (options.listenMs ?? firstListenMs)))
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

/** Scheduler and listening over a link that is open. */
export function runBus(link: Link, clock: BusClock, listenMs: number): OpenBus {
  const listeners = new Set<() => void>()
  const changed = () => {
    for (const listener of [...listeners]) listener()
  }
  let cancelFigures: (() => void) | undefined
  const scheduler = createScheduler(link, clock, () => {
    cancelFigures ??= clock.after(figuresEveryMs, () => {
      cancelFigures = undefined
      changed()
    })
  })

  let holds = 0
  const hold = (): (() => void) => {
    holds++
    scheduler.hold()
    let held = true
    return () => {
      if (!held) return
      held = false
      if (--holds === 0) scheduler.release()
    }
  }

  let otherMaster: BusView['otherMaster']
  let cancelListen: (() => void) | undefined
  const listenFirst = () => {
    const before = cancelListen
    cancelListen = undefined
    if (listenMs > 0) {
      const release = hold()
      const end = () => {
        cancel()
        if (cancelListen === end) cancelListen = undefined
        release()
        changed()
      }
      const cancel = clock.after(listenMs, () => {
        if (!scheduler.halted()) otherMaster = undefined
        end()
      })
      cancelListen = end
    }
    before?.()
    changed()
  }

  const listening = createListening((frame) => {
    if (scheduler.halted()?.kind === 'other-master') return
    otherMaster = { at: clock.now(), again: otherMaster !== undefined && cancelListen !== undefined }
    scheduler.halt({ kind: 'other-master', bytes: hex(frame) })
    changed()
  })
  const remarks = createLineRemarks()
  link.onTap((frame) => {
    if (frame.direction === 'sent') listening.sent(frame.bytes)
    else remarks.received(frame.odd ?? [])
  })
  link.onUnasked((bytes) => listening.heard(bytes))
  let wasOpen = true
  link.onState(({ kind }) => {
    // After an adapter was plugged in again it may be on another line.
    if (kind === 'open' && !wasOpen) listenFirst()
    else changed()
    wasOpen = kind === 'open'
  })
  listenFirst()

  return {
    request: (unit, request, options) => scheduler.request(unit, request, options),
    stop() {
      if (!scheduler.halted()) scheduler.halt({ kind: 'stopped' })
      changed()
    },
    resume() {
      const because = scheduler.halted()
      scheduler.resume()
      if (because?.kind === 'other-master') listenFirst()
      else changed()
    },
    hold() {
      const release = hold()
      changed()
      return () => {
        release()
        changed()
      }
    },
    view() {
      const noticed = remarks.list()
      const figures = {
        ...scheduler.figures(),
        ...(otherMaster ? { otherMaster } : {}),
        ...(noticed.length > 0 ? { remarks: noticed } : {}),
      }
      const halted = scheduler.halted()
      if (link.state.kind === 'down') return { state: 'down', why: link.state.why, reopens: true, ...figures }
      if (link.state.kind === 'closed') return { state: 'closed', ...figures }
      if (halted) return { state: 'halted', why: explainBusFailure(halted), ...figures }
      return { state: holds > 0 ? 'listening' : 'open', ...figures }
    },
    onChange(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    onTap: (listener) => link.onTap(listener),
    async close() {
      scheduler.halt({ kind: 'link-down', why: 'the bus was closed' })
      cancelListen?.()
      cancelFigures?.()
      await link.close()
      changed()
    },
  }
}
