import { type MillivoltsPerVolt, millivoltsPerVolt, type Ohms, ohms } from '../quantity/double.ts'

/**
 * Size of the signal that a resistor across one arm makes: 1000 R / (4 Rs + 2 R), exact, not an approximation.
 * Units: ohm in, mV/V out; its sign hangs on the arm.
 * Limits: four equal arms R. Span resistors inside a real sensor make it less, about by output over input resistance: use the value that
 * the sensor's maker states where there is one; otherwise it shows change, not gain.
 * Source: circuit theory; the same expression stands in published strain-gauge data-acquisition documentation.
 */
export const shuntSignal = (arm: Ohms, shunt: Ohms): MillivoltsPerVolt => millivoltsPerVolt((1000 * arm) / (4 * shunt + 2 * arm))

/** Resistor that makes a signal of this size, in ohm; inverse of `shuntSignal`. Undefined at or below nought, and from 500 mV/V on, which none makes. */
export const shuntFor = (arm: Ohms, signal: MillivoltsPerVolt): Ohms | undefined =>
  signal > 0 && signal < 500 ? ohms(arm * (250 / signal - 0.5)) : undefined
