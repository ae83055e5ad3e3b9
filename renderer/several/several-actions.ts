import type { Job } from '../../app/job/schema.ts'
import { explain } from '../figures/explain.ts'
import { useAsking, useHost } from '../state/host-context.tsx'
import { indicatorsOf } from './indicators-of.ts'
import { type Item, runSeveral } from './runs.ts'

const identities = {
  confirmed: { state: 'done', says: 'confirmed: it is what its profile says' },
  contradicted: { state: 'failed', says: 'contradicted: this is another indicator; writing is closed' },
  'cannot-tell': { state: 'look', says: 'nothing read proves what it is; compare with its front panel' },
  'not-asked': { state: 'look', says: 'not asked' },
} as const

/** What is done for several points at once without changing anything in an indicator. */
export function useSeveralActions(job: Job) {
  const ask = useAsking()
  const { store } = useHost()

  const perIndicator = (pointIds: readonly string[], act: (indicatorId: string) => ReturnType<Item['act']>): Item[] =>
    indicatorsOf(job, pointIds).map(({ indicator, tags }) => ({
      key: indicator.id,
      tag: tags,
      lane: indicator.busId,
      act: () => act(indicator.id),
    }))

  return {
    readSettings: (pointIds: readonly string[], words: string) =>
      runSeveral(
        `Read settings of ${words}`,
        perIndicator(pointIds, async (indicatorId) => {
          const answer = await ask('settings.read', { indicatorId })
          if (!answer.ok) return { state: 'failed', says: explain(answer.failure) }
          const read = `${Object.keys(answer.value.values).length} settings read`
          const differs = store.topic('indicator', indicatorId)?.differs.length ?? 0
          return differs === 0 ? { state: 'done', says: read } : { state: 'look', says: `${read}, ${differs} differ from what is intended` }
        }),
      ),
    identify: (pointIds: readonly string[], words: string) =>
      runSeveral(
        `Identify ${words}`,
        perIndicator(pointIds, async (indicatorId) => {
          const answer = await ask('indicator.identify', { indicatorId })
          return answer.ok ? identities[answer.value.outcome] : { state: 'failed', says: explain(answer.failure) }
        }),
      ),
    record: (pointIds: readonly string[], words: string) =>
      runSeveral(
        `Record ${words}`,
        perPoint(job, pointIds, async (pointId) => {
          const answer = await ask('record.start', { pointIds: [pointId] })
          return answer.ok
            ? { state: 'done', says: `recording into ${answer.value.files.join()}` }
            : { state: 'failed', says: explain(answer.failure) }
        }),
      ),
    endRecording: (pointIds: readonly string[], words: string) =>
      runSeveral(
        `Stop recording ${words}`,
        perPoint(job, pointIds, async (pointId) => {
          const answer = await ask('record.stop', { pointIds: [pointId] })
          return answer.ok
            ? { state: 'done', says: `kept in ${answer.value.files.join()}` }
            : { state: 'failed', says: explain(answer.failure) }
        }),
      ),
  }
}

/** Work on files and points, which no bus has to take turns for. */
const perPoint = (job: Job, pointIds: readonly string[], act: (pointId: string) => ReturnType<Item['act']>): Item[] =>
  job.points.filter((p) => pointIds.includes(p.id)).map((p) => ({ key: p.id, tag: p.tag, lane: p.id, act: () => act(p.id) }))
