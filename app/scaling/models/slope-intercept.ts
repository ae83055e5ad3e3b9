import { fromInteger, one, zero } from '../../quantity/exact.ts'
import { fail, ok } from '../../result.ts'
import { digitAround } from '../register-digits.ts'
import { hold, inOwnUnits, perMillivoltPerVolt, type ScalingModel, signalUnitOf, slotOf } from '../scaling-model.ts'
import { linearOffer } from './linear.ts'

/** Reading = slope x signal + intercept; the signal in the unit of the input. */
export const slopeIntercept: ScalingModel = {
  fit(c) {
    const [slope, intercept] = [slotOf(c, 'scale.slope'), slotOf(c, 'scale.intercept')]
    if (!slope.ok) return slope
    if (!intercept.ok) return intercept
    const signalUnit = signalUnitOf(c.profile, undefined)
    const perSignal = perMillivoltPerVolt(c, signalUnit)
    if (!perSignal.ok) return perSignal
    const own = inOwnUnits(c, perSignal.value, signalUnit)
    if (!own.ok) return own
    const gain = hold(slope.value, one.div(own.value.slope))
    if (!gain.ok) return gain
    if (gain.value.value.lte(zero)) return fail({ kind: 'no-span-left', register: slope.value.key })
    // counted from the slope as rounded, so that only its own rounding is left at zero
    const offset = hold(intercept.value, gain.value.value.mul(own.value.zeroSignal).neg())
    if (!offset.ok) return offset
    const halfDigit = digitAround(slope.value.digits, gain.value.value).div(fromInteger(2)).mul(own.value.slope)
    const values = { [slope.value.key]: gain.value.text, [intercept.value.key]: offset.value.text }
    const heldZero = offset.value.value.neg().div(gain.value.value)
    return ok({ chosen: linearOffer(c, own.value, { gain: gain.value.value, zero: heldZero, halfDigit, values }), alternatives: [] })
  },
  heldSpan(held) {
    const slope = held.number('scale.slope')
    if (!slope.ok) return slope
    const offset = held.number('scale.intercept')
    return ok({
      signal: one,
      signalUnit: signalUnitOf(held.profile, undefined),
      reading: slope.value,
      readingRegister: held.register('scale.intercept'),
      ...(offset.ok
        ? {
            through: [
              { signal: zero, reading: offset.value },
              { signal: one, reading: offset.value.add(slope.value) },
            ],
          }
        : {}),
    })
  },
}
