import { type Exact, fromInteger, sum, zero } from '../quantity/exact.ts'

/** What a certificate says of one sensor; rated output and zero balance in mV/V, capacity in the unit of the load. */
export type SensorLine = { ratedOutput: Exact; zeroBalance: Exact; capacity: Exact }

/**
 * Signal of one sensor at a load, in mV/V.
 * Units: mV/V in, mV/V out; load in the unit of the capacity.
 * Limits: a straight line; non-linearity, hysteresis and creep are not in it.
 * Source: definition of rated output and zero balance (OIML R 60-1:2021, clause 3).
 */
export const sensorSignal = (sensor: SensorLine, load: Exact): Exact =>
  sensor.ratedOutput.mul(load).div(sensor.capacity).add(sensor.zeroBalance)

/** Signal in mV at an excitation in V, of a signal in mV/V. */
export const signalInMillivolts = (signal: Exact, excitation: Exact): Exact => signal.mul(excitation)

/** Load at which a sensor gives a signal in mV/V; inverse of `sensorSignal`. */
export const loadAtSignal = (sensor: SensorLine, signal: Exact): Exact =>
  signal.sub(sensor.zeroBalance).mul(sensor.capacity).div(sensor.ratedOutput)

/**
 * Signal in mV/V of sensors in parallel on one junction box: the mean of theirs.
 * Limits: equal output resistances, no trim, an input that draws nothing.
 * Source: circuit theory (Millman's theorem).
 */
export function parallelSignal(signals: readonly Exact[]): Exact {
  if (signals.length === 0) throw new RangeError('no sensor')
  return sum(signals).div(fromInteger(signals.length))
}

/** Signal at no load is the zero balance. */
export const signalAtNoLoad = (sensor: SensorLine): Exact => sensorSignal(sensor, zero)
