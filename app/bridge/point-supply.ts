import type { Point } from '../job/schema.ts'
import type { Profile } from '../profile/schema.ts'
import { quantityIn } from '../quantity/convert.ts'
import { type Amperes, amperes, type Volts, volts } from '../quantity/double.ts'
import type { QuantityText } from '../quantity/quantity-text.ts'
import type { UnitId } from '../quantity/units.ts'
import { fail, ok, type Result } from '../result.ts'
import { type PointWiringFailure, pointWiring } from './point-wiring.ts'
import { type SupplyLoad, supplyLoad } from './supply.ts'

export type PointSupply = {
  load: SupplyLoad
  /** False where the wiring is not stated enough: the leads are left out, and the current comes out a little high. */
  leadsCounted: boolean
  /** Smallest of what the certificates state; absent where none does. */
  recommended?: Volts
  maximum?: Volts
  /** Above what the certificates recommend, though not above their maximum. */
  aboveRecommended: boolean
  /** What the indicator can give, and what all points on this supply draw together. */
  supplyCurrent?: Amperes
  together: Amperes
}

/** Smallest value among those that are stated, in base units of `unit`. */
function least(quantities: readonly (QuantityText | undefined)[], unit: UnitId): number | undefined {
  const known = quantities.flatMap((q) => {
    const value = q && quantityIn(q, unit)
    return value?.ok ? [value.value.valueOf()] : []
  })
  return known.length > 0 ? Math.min(...known) : undefined
}

function loadOf(
  point: Point,
  excitation: Volts,
  limits: Parameters<typeof supplyLoad>[2],
): Result<{ load: SupplyLoad; leadsCounted: boolean }, PointWiringFailure> {
  const { certificates } = point.sensors
  const full = pointWiring(point.wiring, certificates)
  const bare = full.ok ? full : pointWiring({ wires: 4 }, certificates)
  if (!bare.ok) return bare
  const load = supplyLoad(bare.value, excitation, limits)
  return load.ok ? ok({ load: load.value, leadsCounted: full.ok }) : fail({ kind: 'wiring', because: load.failure })
}

/**
 * Current and power of an excitation at a point, held against what its sensors and the supply of its indicator stand.
 * `sharers` are the other points on the same supply, where the indicator has one for several channels. Units: V in, A and W out.
 * Source: Ohm's law; four inputs of 385 ohm at 10 V draw 0.1039 A (worked case PC-3 in the tests).
 */
export function pointSupply(
  point: Point,
  sharers: readonly Point[],
  profile: Profile | undefined,
  excitation: Volts,
): Result<PointSupply, PointWiringFailure> {
  const { certificates } = point.sensors
  const recommended = least(
    certificates.map((c) => c.excitationRecommended),
    'V',
  )
  const maximum = least(
    certificates.map((c) => c.excitationMaximum),
    'V',
  )
  const current = least([profile?.input?.excitationCurrent], 'A')
  const own = loadOf(point, excitation, {
    ...(maximum === undefined ? {} : { sensorMaximum: volts(maximum) }),
    ...(current === undefined ? {} : { supplyCurrent: amperes(current) }),
  })
  if (!own.ok) return own
  let together: number = own.value.load.current
  for (const other of sharers) {
    const drawn = loadOf(other, excitation, {})
    if (drawn.ok) together += drawn.value.load.current
  }
  const over = current !== undefined && together > current && !own.value.load.exceeded.includes('supply-current')
  const load: SupplyLoad = over ? { ...own.value.load, exceeded: [...own.value.load.exceeded, 'supply-current'] } : own.value.load
  return ok({
    load,
    leadsCounted: own.value.leadsCounted,
    ...(recommended === undefined ? {} : { recommended: volts(recommended) }),
    ...(maximum === undefined ? {} : { maximum: volts(maximum) }),
    aboveRecommended: recommended !== undefined && excitation > recommended,
    ...(current === undefined ? {} : { supplyCurrent: amperes(current) }),
    together: amperes(together),
  })
}
