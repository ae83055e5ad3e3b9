import { fromInteger, zero } from '../../quantity/exact.ts'
import { fail, ok } from '../../result.ts'
import { channelRegister } from '../reading-settings.ts'
import { digitAround } from '../register-digits.ts'
import { hold, inOwnUnits, perMillivoltPerVolt, type ScalingModel, signalUnitOf, slotOf } from '../scaling-model.ts'
import { linearOffer } from './linear.ts'

/** Reading = (signal - zero balance) x capacity / rated output, all of the sensors together and as seen by the point: share and dead load are in them. */
export const capacityRatedOutput: ScalingModel = {
  fit(c) {
    const [capacity, output] = [slotOf(c, 'scale.capacity'), slotOf(c, 'scale.rated-output')]
    if (!capacity.ok) return capacity
    if (!output.ok) return output
    const signalUnit = signalUnitOf(c.profile, output.value.r)
    const perSignal = perMillivoltPerVolt(c, signalUnit)
    if (!perSignal.ok) return perSignal
    const own = inOwnUnits(c, perSignal.value, signalUnit)
    if (!own.ok) return own
    const atCapacity = hold(capacity.value, c.line.capacityLoad.mul(own.value.perPointUnit))
    if (!atCapacity.ok) return atCapacity
    // the output that belongs to the capacity as rounded
    const rated = hold(output.value, own.value.slope.mul(atCapacity.value.value))
    if (!rated.ok) return rated
    if (rated.value.value.lte(zero) || atCapacity.value.value.lte(zero))
      return fail({ kind: 'no-span-left', register: rated.value.value.lte(zero) ? output.value.key : capacity.value.key })
    const values = { [capacity.value.key]: atCapacity.value.text, [output.value.key]: rated.value.text }
    // without a register of its own, zero is for the indicator's zero command
    let heldZero = zero
    if (channelRegister(c.profile, 'scale.zero-balance', c.point.channel)) {
      const balance = slotOf(c, 'scale.zero-balance')
      if (!balance.ok) return balance
      const held = hold(balance.value, own.value.zeroSignal)
      if (!held.ok) return held
      values[balance.value.key] = held.value.text
      heldZero = held.value.value
    }
    const gain = atCapacity.value.value.div(rated.value.value)
    const halfDigit = digitAround(output.value.digits, rated.value.value).div(fromInteger(2)).div(rated.value.value)
    return ok({ chosen: linearOffer(c, own.value, { gain, zero: heldZero, halfDigit, values }), alternatives: [] })
  },
  heldSpan(held) {
    const [capacity, output] = [held.number('scale.capacity'), held.number('scale.rated-output')]
    if (!capacity.ok) return capacity
    if (!output.ok) return output
    const balance = held.number('scale.zero-balance')
    return ok({
      signal: output.value,
      signalUnit: signalUnitOf(held.profile, held.register('scale.rated-output')),
      reading: capacity.value,
      readingRegister: held.register('scale.capacity'),
      // without a register of its own, zero is wherever the indicator was zeroed
      ...(balance.ok
        ? {
            through: [
              { signal: balance.value, reading: zero },
              { signal: balance.value.add(output.value), reading: capacity.value },
            ],
          }
        : {}),
    })
  },
}
