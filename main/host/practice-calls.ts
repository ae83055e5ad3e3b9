import type { Handlers } from '../../app/contract/contract.ts'
import { ok } from '../../app/result.ts'
import { refuse } from './refusals.ts'
import { pointOf, type World } from './world.ts'

export function practiceCalls(w: World): Pick<Handlers, 'practice.load'> {
  return {
    async 'practice.load'({ pointId, load }) {
      const point = pointOf(w, pointId)
      if (!w.bench) return refuse('There is no practice bench: these are real indicators.')
      if (!point?.indicatorId) return refuse('This point has no indicator on the bench.', 'pointId')
      w.bench.setLoad(point.indicatorId, point.channel, Number(load))
      const loads = w.topics.get('practice')?.loads ?? {}
      w.topics.set('practice', undefined, { loads: { ...loads, [pointId]: load } })
      return ok({})
    },
  }
}
