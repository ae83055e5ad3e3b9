import { type Ohms, ohms } from '../quantity/double.ts'
import { resistanceInParallel } from './parallel.ts'

export type StatedOhms = {
  input?: Ohms
  output?: Ohms /** Plus or minus, as the certificate states them. */
  inputTolerance?: Ohms
  outputTolerance?: Ohms
  /** One lead from this sensor to where all join; 0 if absent. */
  lead?: Ohms
}

export type ExpectedOhms = {
  between: 'excitation' | 'signal' | 'excitation and signal'
  from: Ohms
  to: Ohms
  /** Made from both resistances of a bridge whose inside is not known: read it as a rough value. */
  approximate: boolean
}

const withLeads = (sensor: StatedOhms, value: Ohms) => ohms(value + 2 * (sensor.lead ?? 0))

/** For excitation to signal where no tolerance can be made (own choice): a broken or shorted arm is off by far more. */
const roughPercent = 5

/**
 * What an ohmmeter is to show between lead pairs with the indicator disconnected; only pairs for which the certificates state enough.
 * Several sensors are measured side by side. `leads` is the ohms of one lead from the meter to where the sensors join.
 * Excitation to signal of an equal-arm bridge is 3/4 of its resistance; where input and output differ, span resistors are taken as
 * lying evenly in both excitation leads: input/2 + output/4, approximate. All four such pairs of one sensor are alike.
 * Source: circuit theory; place of the span resistors: common practice, no source.
 */
export function expectedOhms(sensors: readonly StatedOhms[], leads: Ohms = ohms(0)): ExpectedOhms[] {
  const inputs = sensors.flatMap((s) => (s.input === undefined ? [] : [{ value: withLeads(s, s.input), tolerance: s.inputTolerance ?? 0 }]))
  const outputs = sensors.flatMap((s) =>
    s.output === undefined ? [] : [{ value: withLeads(s, s.output), tolerance: s.outputTolerance ?? 0 }],
  )
  const list: ExpectedOhms[] = []
  const all = (stated: unknown[]) => sensors.length > 0 && stated.length === sensors.length
  if (all(inputs)) list.push({ between: 'excitation', ...band(inputs, leads), approximate: false })
  if (all(outputs)) list.push({ between: 'signal', ...band(outputs, leads), approximate: false })
  if (!all(inputs) || !all(outputs)) return list
  const differ = sensors.some((s) => s.input !== s.output)
  const across = sensors.map((s) => {
    const value = withLeads(s, ohms((s.input ?? 0) / 2 + (s.output ?? 0) / 4))
    const tolerance = (s.inputTolerance ?? 0) / 2 + (s.outputTolerance ?? 0) / 4
    return { value, tolerance: differ ? Math.max(tolerance, (value * roughPercent) / 100) : tolerance }
  })
  list.push({ between: 'excitation and signal', ...band(across, leads), approximate: differ || sensors.length > 1 })
  return list
}

function band(resistances: readonly { value: Ohms; tolerance: number }[], leads: Ohms): { from: Ohms; to: Ohms } {
  const together = (sign: 1 | -1) => ohms(resistanceInParallel(resistances.map((r) => ohms(r.value + sign * r.tolerance))) + 2 * leads)
  return { from: together(-1), to: together(1) }
}
