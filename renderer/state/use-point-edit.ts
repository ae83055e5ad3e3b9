import type { HostCalls } from '../../app/contract/contract.ts'
import { type Answer, useRequest, useTopic } from './host-context.tsx'

export type PointChange = HostCalls['point.edit']['request']['change']
export type EditPoint = (revision: number, change: PointChange) => Promise<Answer<'point.edit'>>

/** A choice made at once (a button, an option) on what the screen shows now; `failure` until the next one. */
export function usePointChoice(pointId: string) {
  const { ask, running, failure } = useRequest('point.edit')
  const revision = useTopic('job')?.revision ?? 0
  return { put: (change: PointChange) => void ask({ pointId, revision, change }), running, failure }
}

/** Changes what people have decided about one point, on the revision they were looking at. */
export function usePointEdit(pointId: string): EditPoint {
  const { ask } = useRequest('point.edit')
  return (revision, change) => ask({ pointId, revision, change })
}
