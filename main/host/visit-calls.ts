import type { Handlers } from '../../app/contract/contract.ts'
import { compareVisits } from '../../app/job/compare-visits.ts'
import { refuse } from './refusals.ts'
import type { World } from './world.ts'

export function visitCalls(w: World): Pick<Handlers, 'visits.compare'> {
  return {
    async 'visits.compare'(wanted) {
      const compared = compareVisits(w.store.job, w.profiles, wanted)
      return compared.ok ? compared : refuse(compared.failure)
    },
  }
}
