import { dimensionOf } from '../quantity/convert.ts'
import type { QuantityText } from '../quantity/quantity-text.ts'
import type { Point } from './schema.ts'

type Measured = Point['measured']

/** What a signal in mV is kept with: it says nothing of a bridge without the excitation it was taken at, where that was known. */
export const takenAt = (signal: QuantityText, excitation: QuantityText | undefined): { excitation?: QuantityText } =>
  excitation && dimensionOf(signal.unit) === 'voltage' ? { excitation } : {}

/** A zero taken now, in place of an earlier one. */
export function withZero({ zeroExcitation: _earlier, ...measured }: Measured, zeroSignal: QuantityText): Measured {
  const { excitation } = takenAt(zeroSignal, measured.excitation)
  return { ...measured, zeroSignal, ...(excitation ? { zeroExcitation: excitation } : {}) }
}

/** Another change of signal by the shunt, stated or measured; one measured now was made by the excitation that is now. */
export function withShunt(measured: Measured, change: { stated: QuantityText } | { measured: QuantityText }): Measured {
  const { shunt, excitation } = measured
  const [given] = Object.values(change)
  const nought: QuantityText = { value: '0', unit: shunt?.stated.unit ?? given?.unit ?? 'mV/V' }
  const next = { stated: shunt?.stated ?? nought, measured: shunt?.measured ?? nought, ...change }
  const kept = 'measured' in change ? takenAt(change.measured, excitation) : shunt?.excitation && { excitation: shunt.excitation }
  return { ...measured, shunt: { ...next, ...kept } }
}
