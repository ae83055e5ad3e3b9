import type { BenchPoint } from '../description.ts'

/**
 * True signal of the point's sensors in mV/V. They share applied load and structure equally; outputs of equal
 * source resistance wired in parallel average.
 */
export const bridgeSignal = (point: Pick<BenchPoint, 'sensors' | 'deadLoad'>, load: number): number => {
  const share = (load + point.deadLoad) / point.sensors.length
  const outputs = point.sensors.map((sensor) => sensor.zeroMvPerV + (sensor.ratedOutputMvPerV * share) / sensor.capacity)
  return outputs.reduce((sum, output) => sum + output, 0) / outputs.length
}
