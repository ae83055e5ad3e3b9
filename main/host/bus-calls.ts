import { explainBusFailure } from '../../app/contract/bus-failure.ts'
import type { Handlers } from '../../app/contract/contract.ts'
import type { Bus } from '../../app/job/schema.ts'
import { ok } from '../../app/result.ts'
import { attachBus } from './attach-bus.ts'
import type { LiveLoop } from './live-loop.ts'
import { meetNew } from './meet.ts'
import { refuse } from './refusals.ts'
import { busOf, publishSession, type World } from './world.ts'

type BusCalls = Pick<Handlers, 'bus.open' | 'bus.close' | 'sending.stop' | 'sending.resume'>

const closedView = { state: 'closed', answering: 0, silent: 0 } as const

/** `stopOthers` halts what sends on buses of its own. */
export function busCalls(w: World, live: LiveLoop, stopOthers: () => void): BusCalls {
  return {
    async 'bus.open'({ busId }) {
      const bus = busOf(w, busId)
      if (!bus) return refuse(`There is no bus ${busId} in this job.`, 'busId')
      const there = w.buses.get(busId)
      if (there) {
        // Halted because of another master: it is listened to again first.
        if (there.view().state === 'halted' && !w.session.stopped) there.resume()
        return ok({})
      }
      const taken = w.taken.get(busId)
      if (taken !== undefined) return refuse(`${bus.name} is ${taken}; end that first.`, 'busId')
      w.topics.set('bus', busId, { ...closedView, state: 'opening' })
      const opened = await openOnce(w, bus)
      if (w.closed) {
        if (opened.ok) await opened.value.close()
        return refuse('The job is being closed.')
      }
      if (w.buses.has(busId)) return ok({})
      if (!opened.ok) {
        w.topics.set('bus', busId, { ...closedView, state: 'down', why: explainBusFailure(opened.failure) })
        return opened
      }
      attachBus(w, busId, opened.value)
      live.want(live.wanted())
      void meetNew(w, busId)
      return ok({})
    },

    async 'bus.close'({ busId }) {
      const open = w.buses.get(busId)
      if (!open) return refuse(`The bus ${busId} is not open.`, 'busId')
      w.buses.delete(busId)
      await open.close()
      w.topics.set('bus', busId, closedView)
      return ok({})
    },

    async 'sending.stop'() {
      for (const bus of w.buses.values()) bus.stop()
      stopOthers()
      publishSession(w, { stopped: true })
      const openWrites = [...w.sessions].filter(([, s]) => s.view().writing !== null).map(([indicatorId]) => indicatorId)
      return ok({ openWrites })
    },

    async 'sending.resume'() {
      for (const bus of w.buses.values()) bus.resume()
      publishSession(w, { stopped: false })
      live.want(live.wanted())
      return ok({})
    },
  }
}

/** Asked twice at once, a bus is opened once. */
function openOnce(w: World, bus: Bus): ReturnType<World['openBus']> {
  const going = w.opening.get(bus.id) ?? w.openBus(bus).finally(() => w.opening.delete(bus.id))
  w.opening.set(bus.id, going)
  return going
}
