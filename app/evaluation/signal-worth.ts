import type { LiveSample } from '../contract/views.ts'

/** About 0.1 µV at the usual excitations: the best indicators tell no less apart. Common practice, no source. */
const mostDecimals = { 'mV/V': 5, mV: 4 } as const

/**
 * The signal of a sample as text, at no more decimals than it was given with, than any indicator tells apart, and than its
 * `noise` leaves: the standard deviation of the signal, in its unit; null where that is not known. Null where there is no signal.
 */
export function signalText({ signal, signalUnit }: Pick<LiveSample, 'signal' | 'signalUnit'>, noise: number | null): string | null {
  if (signal === null) return null
  const given = signal.split('.')[1]?.length ?? 0
  const left = noise !== null && noise > 0 ? Math.max(0, -Math.floor(Math.log10(noise))) : mostDecimals[signalUnit]
  const text = Number(signal).toFixed(Math.min(given, mostDecimals[signalUnit], left))
  return text.replace(/^-(?=[0.]+$)/, '')
}
