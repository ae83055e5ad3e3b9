import type { Handlers } from '../../app/contract/contract.ts'
import { ok } from '../../app/result.ts'
import { refuse } from './refusals.ts'
import { pointOf, type World } from './world.ts'

/** Keeps what people say is on the points, for as long as this host runs: tomorrow it is no longer true. */
export function tellLoad(w: World, pointId: string, load: string | null): void {
  const { [pointId]: _before, ...others } = w.topics.get('applied')?.loads ?? {}
  w.topics.set('applied', undefined, { loads: load === null ? others : { ...others, [pointId]: { load, at: w.clock.now() } } })
}

export function appliedLoadCalls(w: World): Pick<Handlers, 'load.tell'> {
  return {
    async 'load.tell'({ pointId, load }) {
      if (!pointOf(w, pointId)) return refuse(`There is no measuring point ${pointId} in this job.`, 'pointId')
      tellLoad(w, pointId, load)
      return ok({})
    },
  }
}
