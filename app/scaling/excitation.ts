import type { Point } from '../job/schema.ts'
import { type Profile, registerKey } from '../profile/schema.ts'
import { quantityIn } from '../quantity/convert.ts'
import { type Exact, exactDecimal, minimum, one, sum, toSignificant, zero } from '../quantity/exact.ts'
import type { QuantityText } from '../quantity/quantity-text.ts'
import type { UnitId } from '../quantity/units.ts'
import { channelRegister } from './reading-settings.ts'
import type { ScalingWarning } from './scaling-failure.ts'
import { quantityStated } from './stated-quantity.ts'

export type ExcitationChoice = {
  /** Nominal excitation in V where one is chosen, intended or the only one. */
  volts?: Exact
  /** What to put into the indicator; empty where nothing is known that decides. */
  values: Record<string, string>
  why: string
  warnings: ScalingWarning[]
}

const volts = (value: Exact) => `${exactDecimal(value) ?? toSignificant(value, 3)} V`
const all = (quantities: (QuantityText | undefined)[], unit: UnitId): Exact[] =>
  quantities.flatMap((q) => {
    const value = q && quantityIn(q, unit)
    return value?.ok && value.value.gt(zero) ? [value.value] : []
  })

/**
 * Excitation that suits sensors and supply: the one that is intended, where it does; else the one certified where the output is certified in mV, else the largest that neither
 * the sensors (recommended, else maximum) nor the supply current forbid. More excitation gives more signal.
 * Limits: the input resistances are the certificates'; leads are left out.
 */
export function chooseExcitation(point: Point, profile: Profile): ExcitationChoice {
  const r = channelRegister(profile, 'excitation.voltage', point.channel)
  const key = r && registerKey(r)
  const options = (r?.options ?? []).flatMap((o) => {
    const value = quantityStated(o.means, 'V')
    return value ? [{ means: o.means, value }] : []
  })
  const { certificates } = point.sensors
  const certified = all(
    certificates.map((c) => c.certifiedAt),
    'V',
  )
  const recommended = all(
    certificates.map((c) => c.excitationRecommended),
    'V',
  )
  const most = all(
    certificates.map((c) => c.excitationMaximum),
    'V',
  )
  const inputs = all(
    certificates.map((c) => c.inputResistance),
    'ohm',
  )
  const [supply] = all([profile.input?.excitationCurrent], 'A')
  const warnings: ScalingWarning[] = []
  const nothing = (why: string): ExcitationChoice => {
    const intended = key === undefined ? undefined : point.intended[key]
    const known = options.find((o) => o.means === intended) ?? (options.length === 1 ? options[0] : undefined)
    return { ...(known ? { volts: known.value } : {}), values: {}, why, warnings }
  }
  if (!r || key === undefined || options.length === 0 || r.access !== 'read-write')
    return nothing('The excitation of this indicator is not a setting.')
  const [limit] = [[...most, ...(most.length === 0 ? recommended : [])]]
    .filter((l) => l.length > 0)
    .map(([first, ...rest]) => minimum(first ?? zero, ...rest))
  const [wish] = [recommended].filter((l) => l.length > 0).map(([first, ...rest]) => minimum(first ?? zero, ...rest))
  if (!limit && certified.length === 0) {
    warnings.push({
      kind: 'excitation-not-stated',
      why: 'No certificate states an excitation; that of the indicator is left as it is. Look at the sensor for its maximum.',
    })
    return nothing('No certificate states an excitation.')
  }
  const conductance = inputs.length === certificates.length && inputs.length > 0 ? sum(inputs.map((ohms) => one.div(ohms))) : undefined
  const fits = (value: Exact) => (!limit || value.lte(limit)) && (!supply || !conductance || value.mul(conductance).lte(supply))
  const allowed = options.filter((o) => fits(o.value)).sort((a, b) => b.value.compare(a.value))
  const same = certified[0] && allowed.find((o) => certified.every((c) => c.equals(o.value)))
  const intended = options.find((o) => o.means === point.intended[key])
  const chosen = intended && allowed.includes(intended) ? intended : undefined
  if (certified.length > 0 && (!same || (chosen && chosen !== same)))
    warnings.push({
      kind: 'excitation-differs-from-certificate',
      why: same
        ? `The output is certified in mV at ${same.means}, ${chosen?.means} is intended; at another excitation the sensor may differ a little.`
        : 'The output is certified in mV at an excitation that this indicator does not give; at another one the sensor may differ a little.',
    })
  const best = same ?? allowed.find((o) => !wish || o.value.lte(wish)) ?? allowed.at(-1)
  if (!best) {
    warnings.push({
      kind: 'excitation-too-high',
      why: `Every excitation of this indicator is beyond what sensors or supply stand${limit ? ` (sensors: ${volts(limit)})` : ''}. Do not connect them.`,
    })
    return nothing('No excitation of this indicator suits.')
  }
  const why = same
    ? `${best.means}: the output is certified at it.`
    : `${best.means}: the largest that sensors${wish ? ` (recommended ${volts(wish)})` : limit ? ` (maximum ${volts(limit)})` : ''} and supply stand.`
  if (chosen && chosen !== best)
    return { volts: chosen.value, values: { [key]: chosen.means }, why: `${chosen.means} is intended. ${why}`, warnings }
  if (intended && !chosen)
    warnings.push({
      kind: 'intended-excitation-not-taken',
      why: `The intended excitation of ${intended.means} is beyond what sensors or supply stand. ${best.means} is taken instead.`,
    })
  return { volts: best.value, values: { [key]: best.means }, why, warnings }
}
