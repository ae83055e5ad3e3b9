import { type MillivoltsPerVolt, millivoltsPerVolt, type Ohms, ohms } from '../quantity/double.ts'

export type Source = { signal: MillivoltsPerVolt; outputResistance: Ohms }

/** Resistance of resistors side by side. Source: circuit theory. */
export function resistanceInParallel(resistances: readonly Ohms[]): Ohms {
  if (resistances.length === 0) throw new RangeError('no resistance')
  return ohms(1 / resistances.reduce((conductance, r) => conductance + 1 / r, 0))
}

/**
 * Signal of unequal sensors on one junction box: each weighs by the inverse of its output resistance.
 * Units: mV/V and ohm in, mV/V out.
 * Limits: no trim, an input that draws nothing (see `inputLoading`), all sensors on the same excitation.
 * Source: circuit theory (Millman's theorem). With equal output resistances it is the mean.
 */
export function unequalParallelSignal(sources: readonly Source[]): MillivoltsPerVolt {
  const weighted = sources.reduce((total, s) => total + s.signal / s.outputResistance, 0)
  return millivoltsPerVolt(weighted * resistanceInParallel(sources.map((s) => s.outputResistance)))
}

/**
 * Share of the signal that an indicator's own input resistance leaves: R_input / (R_input + R_source + 2 R_lead).
 * `source` is the output resistance of all sensors together, `lead` that of one signal lead. Source: circuit theory.
 */
export const inputLoading = (indicatorInput: Ohms, source: Ohms, lead: Ohms): number =>
  indicatorInput / (indicatorInput + source + 2 * lead)
