import type { Handlers } from '../../app/contract/contract.ts'
import { isModbusTcp } from '../../app/job/indicator-rules.ts'
import { ok } from '../../app/result.ts'
import { explainHeard, type HeardBytes, judgeHeard } from '../bus/line-heard.ts'
import type { OpenBus } from '../bus/open-bus.ts'
import { refuse } from './refusals.ts'
import { busOf, type World } from './world.ts'

const showEveryMs = 250

type Running = { stop(): void; ended: Promise<void> }

export type Listener = { calls: Pick<Handlers, 'bus.listen' | 'bus.listen-stop'>; close(): Promise<void> }

/** Listens on a serial line without sending: on the open bus, whose requests wait meanwhile, or on one opened only for this. */
export function createListener(w: World): Listener {
  const running = new Map<string, Running>()

  async function listen(busId: string, bus: OpenBus, forMs: number, isOver: () => boolean): Promise<void> {
    const startedAt = w.clock.stamp()
    const began = w.clock.now()
    const heard: HeardBytes[] = []
    const release = bus.hold()
    // The answer to a request of ours that was still on the line is nobody else's.
    const untap = bus.onTap(({ direction, at, bytes, odd }) => {
      if (direction === 'received' && odd?.includes('stray')) heard.push({ at, bytes })
    })
    const show = (state: 'listening' | 'ended') => {
      const heardMs = Math.min(forMs, w.clock.now() - began)
      const judged = judgeHeard(heard)
      const { why } = bus.view()
      const lost = bus.view().state === 'down' && why !== undefined ? ` The line was lost: ${why}` : ''
      w.topics.set('heard', busId, { state, startedAt, forMs, heardMs, ...judged, says: explainHeard(judged, heardMs) + lost })
    }
    show('listening')
    while (!isOver() && bus.view().state !== 'down' && bus.view().state !== 'closed') {
      const leftMs = forMs - (w.clock.now() - began)
      if (leftMs <= 0) break
      await w.clock.pause(Math.min(showEveryMs, leftMs))
      show('listening')
    }
    untap()
    release()
    show('ended')
  }

  return {
    calls: {
      async 'bus.listen'({ busId, seconds }) {
        const bus = busOf(w, busId)
        if (!bus) return refuse(`There is no bus ${busId} in this job.`, 'busId')
        if (isModbusTcp(bus)) return refuse('A Modbus TCP connection hears its own answers only; there is nothing to listen to.', 'busId')
        if (running.has(busId)) return refuse(`${bus.name} is being listened to already.`, 'busId')
        const taken = w.taken.get(busId)
        if (taken !== undefined) return refuse(`${bus.name} is ${taken}; end that first.`, 'busId')
        const there = w.buses.get(busId)
        if (!there) w.taken.set(busId, 'being listened to')
        const opened = there ? ok(there) : await w.openBus(bus)
        if (!opened.ok) {
          w.taken.delete(busId)
          return opened
        }
        let over = false
        const ended = listen(busId, opened.value, seconds * 1_000, () => over).then(async () => {
          if (!there) await opened.value.close()
          if (!there) w.taken.delete(busId)
          running.delete(busId)
        })
        running.set(busId, {
          ended,
          stop() {
            over = true
          },
        })
        return ok({})
      },
      async 'bus.listen-stop'({ busId }) {
        const r = running.get(busId)
        if (!r) return refuse('This bus is not being listened to.', 'busId')
        r.stop()
        await r.ended
        return ok({})
      },
    },
    async close() {
      for (const r of running.values()) r.stop()
      await Promise.all([...running.values()].map((r) => r.ended))
    },
  }
}
