import type { Certificate } from '../../../app/job/schema.ts'
import { dimensionOf, toBase } from '../../../app/quantity/convert.ts'
import { exact } from '../../../app/quantity/exact.ts'
import type { UnitId } from '../../../app/quantity/units.ts'

export type SafeLoad = {
  /** The least percentage of its capacity that any of the sensors bears. */
  percent: number
  /** What the load on the point is safe under; undefined with one sensor, which carries all of it. */
  provided: string | undefined
  /** What the weakest sensor bears by itself. */
  oneSensor: { value: number; unit: UnitId }
}

/** How far the sensors of a point may be loaded by their certificates; undefined where one does not state it. */
export function safeLoadOf(certificates: readonly Certificate[]): SafeLoad | undefined {
  const [first, ...rest] = certificates.flatMap(({ capacity, safeOverloadPercent }) => {
    if (!safeOverloadPercent || !capacity) return []
    const share = exact(safeOverloadPercent).div(exact('100'))
    const bears = exact(capacity.value).mul(share)
    return [{ percent: Number(safeOverloadPercent), bears, inBase: toBase(bears, capacity.unit).valueOf(), capacity }]
  })
  if (!first || rest.length + 1 < certificates.length) return undefined
  const weakest = rest
    .filter((s) => dimensionOf(s.capacity.unit) === dimensionOf(first.capacity.unit))
    .reduce((a, b) => (b.inBase < a.inBase ? b : a), first)
  const alike = [first, ...rest].every(({ capacity }) =>
    toBase(exact(capacity.value), capacity.unit).equals(toBase(exact(first.capacity.value), first.capacity.unit)),
  )
  return {
    percent: Math.min(first.percent, ...rest.map((s) => s.percent)),
    provided: rest.length === 0 ? undefined : alike ? 'if all sensors carry equally' : 'if each carries by its capacity',
    oneSensor: { value: weakest.bears.valueOf(), unit: weakest.capacity.unit },
  }
}
