import { isFor } from '../job/intended.ts'
import type { Intended, Point } from '../job/schema.ts'
import type { Profile } from '../profile/schema.ts'
import { findRegister } from '../profile/settings.ts'
import { quantityIn } from '../quantity/convert.ts'
import { type Exact, exactDecimal, toSignificant } from '../quantity/exact.ts'
import { labelOf } from './certificate-scaling.ts'
import { excitationStated } from './stated-quantity.ts'

const volts = (value: Exact) => `${exactDecimal(value) ?? toSignificant(value, 3)} V`

/** Excitations among these values that a sensor does not stand, by what its certificate states as its maximum: a sentence for each point. */
export function excitationsBeyond(points: readonly Point[], profile: Profile, values: Intended): string[] {
  const given = Object.entries(values).flatMap(([key, value]) => {
    const register = findRegister(profile, key)
    const asked = register?.name === 'excitation.voltage' ? excitationStated(register, value) : undefined
    return asked ? [{ key, asked }] : []
  })
  return points.flatMap((point) =>
    given.flatMap(({ key, asked }) => {
      const weakest = isFor(key, point.channel) ? weakestOf(point) : undefined
      return weakest && asked.gt(weakest.maximum)
        ? [
            `${point.tag}: ${volts(asked)} of excitation is above the ${volts(weakest.maximum)} that ${weakest.label} stands by its certificate. It may be destroyed.`,
          ]
        : []
    }),
  )
}

function weakestOf(point: Point): { maximum: Exact; label: string } | undefined {
  return point.sensors.certificates
    .flatMap((c, i) => {
      const maximum = c.excitationMaximum && quantityIn(c.excitationMaximum, 'V')
      return maximum?.ok ? [{ maximum: maximum.value, label: labelOf(c, i) }] : []
    })
    .sort((a, b) => a.maximum.compare(b.maximum))[0]
}

/** Why such values must not be intended; null where sensors stand them. */
export function beyondSensors(points: readonly Point[], profile: Profile, values: Intended): string | null {
  const [first] = excitationsBeyond(points, profile, values)
  return first === undefined ? null : `${first} Choose a lower one, or correct the certificate.`
}
