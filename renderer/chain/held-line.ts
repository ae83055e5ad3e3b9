import { exact, one, zero } from '../../app/quantity/exact.ts'
import { readingByHeld } from '../../app/scaling/held-reading.ts'
import { heldValue, type PointView } from '../state/point-view.ts'

/** The straight line that an indicator holds, whatever its scaling model. Signals in mV/V, readings in the point's unit. */
export type HeldLine = {
  /** Signal at which it shows nought. */ zeroSignal: number /** mV/V in one unit of reading. */
  perReading: number
}

const known = new WeakMap<object, { key: string; line: HeldLine | undefined }>()

/** The line held about the lower end; undefined where it is not read, or where mV stand in it and no excitation is measured. */
export function heldLine(view: PointView): HeldLine | undefined {
  const { point, profile, state } = view
  const held = state?.held
  if (!held || !profile) return undefined
  const key = `${point.channel} ${point.unit} ${point.measured.excitation?.value ?? ''} ${JSON.stringify(point.loadPath.gravityHere ?? '')}`
  const before = known.get(held)
  if (before?.key === key) return before.line
  const volts = point.measured.excitation?.unit === 'V' ? exact(point.measured.excitation.value) : undefined
  const [atNought, atOne] = [zero, one].map((signal) => readingByHeld(point, profile, held, signal, volts))
  const perSignal = atNought?.ok && atOne?.ok ? atOne.value.sub(atNought.value) : zero
  const line =
    atNought?.ok && !perSignal.equals(zero)
      ? { zeroSignal: -atNought.value.div(perSignal).valueOf(), perReading: one.div(perSignal).valueOf() }
      : undefined
  known.set(held, { key, line })
  return line
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
