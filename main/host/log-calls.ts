import type { Handlers } from '../../app/contract/contract.ts'
import { readWriteLog } from '../files/write-log.ts'
import { refuse } from './refusals.ts'
import { indicatorOf, pointOf, type World } from './world.ts'

export function logCalls(w: World): Pick<Handlers, 'log.read'> {
  return {
    async 'log.read'({ indicatorId, pointId }) {
      if (pointId !== undefined && !pointOf(w, pointId)) return refuse(`There is no measuring point ${pointId} in this job.`, 'pointId')
      if (indicatorId !== undefined && !indicatorOf(w, indicatorId))
        return refuse(`There is no indicator ${indicatorId} in this job.`, 'indicatorId')
      const log = readWriteLog(w.store.path, w.store.job, { indicatorId, pointId })
      return log.ok ? log : refuse(log.failure)
    },
  }
}
