import { isScaling } from '../../app/profile/scaling-registers.ts'
import type { Answer } from './host-context.tsx'
import { useRequest } from './host-context.tsx'
import type { PointView } from './point-view.ts'

const isOwn = (key: string) => key.includes('@') || isScaling(key)

/** Puts one value into what is intended: of this point alone, or, for a setting of the whole indicator, of all its points at once. */
export function useIntend({ point, indicator }: PointView) {
  const own = useRequest('point.intend')
  const whole = useRequest('indicator.intend')
  const put = (revision: number, key: string, value: string): Promise<Answer<'point.intend'>> =>
    isOwn(key) || !indicator
      ? own.ask({ pointId: point.id, revision, values: { [key]: value } })
      : whole.ask({ indicatorId: indicator.id, revision, values: { [key]: value } })
  /** These are no longer intended: the indicator keeps what it holds. */
  const takeBack = (revision: number, keys: readonly string[]) => {
    const values = Object.fromEntries(keys.map((key) => [key, null]))
    return keys.every(isOwn) || !indicator
      ? own.ask({ pointId: point.id, revision, values })
      : whole.ask({ indicatorId: indicator.id, revision, values })
  }
  return { put, takeBack, failure: own.failure ?? whole.failure }
}
