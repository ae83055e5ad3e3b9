import type { HostCalls } from '../../app/contract/contract.ts'
import { type Answer, useRequest } from './host-context.tsx'

export type PointChange = HostCalls['point.edit']['request']['change']
export type EditPoint = (revision: number, change: PointChange) => Promise<Answer<'point.edit'>>

/** Changes what people have decided about one point, on the revision they were looking at. */
export function usePointEdit(pointId: string): EditPoint {
  const { ask } = useRequest('point.edit')
  return (revision, change) => ask({ pointId, revision, change })
}
