import type { BenchPoint, BenchShunt } from '../description.ts'

/**
 * True signal of the point's sensors in mV/V. They share applied load and structure equally; outputs of equal
 * source resistance wired in parallel average.
 */
export const bridgeSignal = (point: Pick<BenchPoint, 'sensors' | 'deadLoad'>, load: number): number => {
  const share = (load + point.deadLoad) / point.sensors.length
  const outputs = point.sensors.map((sensor) => sensor.zeroMvPerV + (sensor.ratedOutputMvPerV * share) / sensor.capacity)
  return outputs.reduce((sum, output) => sum + output, 0) / outputs.length
}

/**
 * Signal step in mV/V when a resistor Rs is put across one arm of a bridge of four arms R: 1000 R / (4 Rs + 2 R), exact for
 * the balanced bridge. Bridges wired in parallel share their corners, so the arm is R / n.
 */
export const shuntStep = ({ ohms, bridgeOhms }: BenchShunt, sensors: number): number => {
  const arm = bridgeOhms / sensors
  return (1000 * arm) / (4 * ohms + 2 * arm)
}
