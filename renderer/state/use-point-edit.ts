import type { HostCalls } from '../../app/contract/contract.ts'
import { rebased } from '../../app/job/rebased.ts'
import { type Answer, useHost, useRequest, useTopic } from './host-context.tsx'
import type { Store } from './store.ts'

export type PointChange = HostCalls['point.edit']['request']['change']
export type EditPoint = (revision: number, change: PointChange) => Promise<Answer<'point.edit'>>

/** The last edit of this page under way: the next one is made on what that came to. */
const lastOf = new WeakMap<Store, Promise<unknown>>()

function usePointEditing(pointId: string) {
  const { store } = useHost()
  const request = useRequest('point.edit')
  const find = (job: ReturnType<typeof useTopic<'job'>>) => job?.points.find((p) => p.id === pointId)
  const base = find(useTopic('job'))
  const edit: EditPoint = (revision, change) => {
    const made = (lastOf.get(store) ?? Promise.resolve()).then(() => {
      const now = find(store.topic('job'))
      return request.ask({ pointId, revision, change: base && now ? rebased(change, base, now) : change })
    })
    lastOf.set(store, made)
    return made
  }
  return { ...request, edit }
}

/** A choice made at once (a button, an option) on what the screen shows now; `failure` until the next one. */
export function usePointChoice(pointId: string) {
  const { edit, running, failure } = usePointEditing(pointId)
  const revision = useTopic('job')?.revision ?? 0
  return { put: (change: PointChange) => void edit(revision, change), running, failure }
}

/** Changes what people have decided about one point, on the revision they were looking at. */
export const usePointEdit = (pointId: string): EditPoint => usePointEditing(pointId).edit
