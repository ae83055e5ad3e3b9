import { type Amperes, amperes, type Volts, volts, type Watts, watts } from '../quantity/double.ts'
import { ok, type Result } from '../result.ts'
import { leadLoss, ohmsSeen, type Wiring, type WiringFailure } from './lead-loss.ts'

export type SupplyLimits = {
  /** Largest excitation that a sensor stands; the smallest of all certificates. */
  sensorMaximum?: Volts
  /** Largest current that the indicator's excitation gives. */
  supplyCurrent?: Amperes
}

export type SupplyLoad = {
  current: Amperes
  /** Voltage at the indicator's terminals; above the excitation where sense leads make it compensate. */
  terminalVoltage: Volts
  /** Heat in each sensor. */
  sensorPower: Watts[]
  totalPower: Watts
  /** What is exceeded; empty where nothing is, or where nothing is stated to hold it against. */
  exceeded: ('sensor-excitation' | 'supply-current')[]
  /** Limits that are not stated: not judged, not passed. */
  notStated: ('sensor-excitation' | 'supply-current')[]
}

/**
 * Current and power of an excitation in V that is kept at the sense point.
 * Limits: an indicator that raises its voltage to keep the sense point; ratiometric ones that only measure it give less.
 * Source: Ohm's law.
 */
export function supplyLoad(wiring: Wiring, excitation: Volts, limits: SupplyLimits): Result<SupplyLoad, WiringFailure> {
  const loss = leadLoss(wiring)
  if (!loss.ok) return loss
  const atSensors = loss.value.excitation.map((share) => share * excitation)
  const current = wiring.sensors.reduce((total, s, i) => total + (atSensors[i] ?? 0) / s.inputResistance, 0)
  const terminalVoltage = current * ohmsSeen(wiring)
  const exceeded: SupplyLoad['exceeded'] = []
  const notStated: SupplyLoad['notStated'] = []
  if (limits.sensorMaximum === undefined) notStated.push('sensor-excitation')
  else if (Math.max(...atSensors) > limits.sensorMaximum) exceeded.push('sensor-excitation')
  if (limits.supplyCurrent === undefined) notStated.push('supply-current')
  else if (current > limits.supplyCurrent) exceeded.push('supply-current')
  return ok({
    current: amperes(current),
    terminalVoltage: volts(terminalVoltage),
    sensorPower: wiring.sensors.map((s, i) => watts((atSensors[i] ?? 0) ** 2 / s.inputResistance)),
    totalPower: watts(current * terminalVoltage),
    exceeded,
    notStated,
  })
}
