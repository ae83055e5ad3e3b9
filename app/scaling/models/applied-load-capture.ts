import { exactDecimal, fromInteger, toDecimal, toSignificant, zero } from '../../quantity/exact.ts'
import { ok } from '../../result.ts'
import { channelRegister } from '../reading-settings.ts'
import { digitAround } from '../register-digits.ts'
import { inOwnUnits, perMillivoltPerVolt, type ScalingModel, signalUnitOf, slotOf } from '../scaling-model.ts'
import { linearOffer } from './linear.ts'
import { heldSpanOf } from './two-pairs.ts'

const names = {
  lowerSignal: 'scale.lower.signal',
  lowerReading: 'scale.lower.reading',
  upperSignal: 'scale.upper.signal',
  upperReading: 'scale.upper.reading',
}
const shownDecimals = 5

/**
 * The indicator takes the signal itself while a known load is on: nothing is written, the expected signals tell whether what is on is what is meant.
 * Any known load up to maximum serves as the upper one; its expected signal is in proportion.
 */
export const appliedLoadCapture: ScalingModel = {
  fit(c) {
    const signalUnit = signalUnitOf(c.profile, channelRegister(c.profile, names.upperSignal, c.point.channel))
    const perSignal = perMillivoltPerVolt(c, signalUnit)
    if (!perSignal.ok) return perSignal
    const own = inOwnUnits(c, perSignal.value, signalUnit)
    if (!own.ok) return own
    const { slope, zeroSignal, maximum } = own.value
    // what the indicator captures it keeps in its own digits; where they are not known none are assumed to be coarse
    const slot = slotOf(c, names.upperSignal)
    const halfDigit = slot.ok ? digitAround(slot.value.digits, zeroSignal).div(fromInteger(2)).div(slope.mul(maximum)) : zero
    const gain = fromInteger(1).div(slope)
    const step = (load: typeof maximum) => ({
      apply: exactDecimal(load) ?? toSignificant(load, 9),
      unit: c.reading.unit,
      expectSignal: toDecimal(zeroSignal.add(slope.mul(load)), shownDecimals),
      signalUnit,
    })
    return ok({
      chosen: linearOffer(c, own.value, { gain, zero: zeroSignal, halfDigit, values: {} }),
      alternatives: [],
      captures: [
        { command: 'capture-lower', ...step(zero) },
        { command: 'capture-upper', ...step(maximum) },
      ],
    })
  },
  heldSpan: (held) => heldSpanOf(held, names),
}
