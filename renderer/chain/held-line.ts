import type { Point, SettingsImage } from '../../app/job/schema.ts'
import type { Profile } from '../../app/profile/schema.ts'
import { exact, one, zero } from '../../app/quantity/exact.ts'
import { readingByHeld } from '../../app/scaling/held-reading.ts'
import { heldValue, type PointView } from '../state/point-view.ts'

// by point: an indicator with several channels is read as one
const known = new WeakMap<Point, { held: SettingsImage; profile: Profile; slope: number | undefined }>()

/**
 * Signal in mV/V that makes one unit of the point on the line that an indicator holds, whatever its scaling model, about its lower end;
 * undefined where it is not read, or where mV stand in it and no excitation is measured.
 */
export function heldSlope(view: PointView): number | undefined {
  const { point, profile, state } = view
  const held = state?.held
  if (!held || !profile) return undefined
  const before = known.get(point)
  if (before?.held === held && before.profile === profile) return before.slope
  const volts = point.measured.excitation?.unit === 'V' ? exact(point.measured.excitation.value) : undefined
  const [atNought, atOne] = [zero, one].map((signal) => readingByHeld(point, profile, held, signal, volts))
  const perSignal = atNought?.ok && atOne?.ok ? atOne.value.sub(atNought.value) : zero
  const slope = perSignal.equals(zero) ? undefined : one.div(perSignal).valueOf()
  known.set(point, { held, profile, slope })
  return slope
}

/** The two pairs that an indicator holds as such, in the digits that its registers decode to. */
export function heldPairs(view: PointView) {
  const [ls, lr, us, ur] = ['scale.lower.signal', 'scale.lower.reading', 'scale.upper.signal', 'scale.upper.reading'].map((name) =>
    heldValue(view, name),
  )
  if (ls == null || lr == null || us == null || ur == null) return undefined
  return { lower: { signal: ls, reading: lr }, upper: { signal: us, reading: ur } }
}

/** Excitation in volts as the indicator holds it, nominal. */
export function heldExcitation(view: PointView): number | undefined {
  const text = heldValue(view, 'excitation.voltage')
  const volts = text ? Number.parseFloat(text) : Number.NaN
  return Number.isFinite(volts) ? volts : undefined
}

/** Largest signal of the input range that is held, in its own unit. */
export function heldRange(view: PointView): number | undefined {
  const text = heldValue(view, 'input.range')
  const range = text ? Number.parseFloat(text) : Number.NaN
  return Number.isFinite(range) ? range : undefined
}
