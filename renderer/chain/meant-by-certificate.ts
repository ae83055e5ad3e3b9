import { excitationNow, measuredZero } from '../../app/scaling/expected-chain.ts'
import type { PointView } from '../state/point-view.ts'
import { certificateLine } from './certificate-line.ts'
import { inputClipped } from './input-room.ts'
import { signalState } from './reading-text.ts'

export type Meant =
  /** In the point's unit, counted from which zero. */
  | { load: number; zeroFrom: 'measured' | 'certificate' }
  /** Why no zero is known; a few words. */
  | { noZero: string }
  /** The input holds the signal back: it is not the sensor's. */
  | { clipped: true }

/**
 * The load that a measured signal means by the certificates alone, nothing of the scaling values held in it: counted from the zero that was
 * measured at the point, else from zero balance and dead load where both are stated. Undefined without a measured signal in mV/V (in mV:
 * without a measured excitation) or without certificates that give a line.
 */
export function meantByCertificate(view: PointView): Meant | undefined {
  const { point, profile, state } = view
  const signal = signalState(view)
  const scaling = certificateLine(point)
  if (signal?.origin !== 'measured' || !scaling.ok) return undefined
  if (inputClipped(view)) return { clipped: true }
  const excitation = excitationNow(point, profile, state?.held ?? null)
  const volts = excitation?.from === 'measured' ? excitation.volts.valueOf() : undefined
  const ratio = signal.unit === 'mV/V' ? signal.value : volts && signal.value / volts
  if (ratio === undefined) return undefined
  const { line, warnings } = scaling.value
  const measured = measuredZero(point, excitation)
  const notStated = warnings.flatMap(({ kind }) => (kind in withoutZero ? [withoutZero[kind as keyof typeof withoutZero]] : []))
  if (!measured && notStated.length > 0) return { noZero: notStated.join(', ') }
  const zero = measured ?? line.zeroSignal
  return { load: (ratio - zero.valueOf()) / line.slope.valueOf(), zeroFrom: measured ? 'measured' : 'certificate' }
}

const withoutZero = { 'zero-balance-not-stated': 'zero balance not stated', 'dead-load-not-stated': 'dead load not stated' }
