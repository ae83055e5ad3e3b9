import type { Certificate, Point } from '../job/schema.ts'
import { dimensionOf, toBase } from '../quantity/convert.ts'
import { type Exact, exact } from '../quantity/exact.ts'
import type { UnitId } from '../quantity/units.ts'
import type { ExactLine } from './certificate-scaling.ts'

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

/** The load on a point, dead load not counted, up to which its sensors are safe; in the point's unit. */
export const safeOnPoint = (line: ExactLine, safe: SafeLoad): Exact =>
  line.capacityLoad
    .mul(exact(String(safe.percent)))
    .div(exact('100'))
    .sub(line.deadLoad)

/** What a load goes beyond, and the most that may be on the point by it, in the point's unit. */
export type Overload = { beyond: 'safe load' | 'capacity'; most: Exact }

/**
 * Whether a load on a point is more than its sensors stand by their certificates; where one states no safe overload, their capacity is all
 * that is known. A load that acts the other way counts as much.
 */
export function overloadBy(point: Point, line: ExactLine, load: Exact): Overload | undefined {
  const safe = safeLoadOf(point.sensors.certificates)
  const most = safe ? safeOnPoint(line, safe) : line.capacityLoad.sub(line.deadLoad)
  const onSensors = load.add(line.deadLoad).abs()
  return onSensors.gt(most.add(line.deadLoad)) ? { beyond: safe ? 'safe load' : 'capacity', most } : undefined
}
