import type { Answer } from './host-context.tsx'
import { useRequest } from './host-context.tsx'
import type { PointView } from './point-view.ts'

/** Puts one value into what is intended: of this point alone, or, for a setting of the whole indicator, of all its points at once. */
export function useIntend({ point, indicator }: PointView) {
  const own = useRequest('point.intend')
  const whole = useRequest('indicator.intend')
  const put = (revision: number, key: string, value: string): Promise<Answer<'point.intend'>> =>
    key.includes('@') || !indicator
      ? own.ask({ pointId: point.id, revision, values: { [key]: value } })
      : whole.ask({ indicatorId: indicator.id, revision, values: { [key]: value } })
  return { put, failure: own.failure ?? whole.failure }
}
