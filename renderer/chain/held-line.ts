import { heldValue, type PointView } from '../state/point-view.ts'

export type HeldLine = {
  lower: { signal: number; reading: number }
  upper: { signal: number; reading: number }
  texts: { signal: string; reading: string }
}

/** The straight line that the indicator holds, where its model is two pairs and they were read. */
export function heldLine(view: PointView): HeldLine | undefined {
  const [ls, lr, us, ur] = ['scale.lower.signal', 'scale.lower.reading', 'scale.upper.signal', 'scale.upper.reading'].map((name) =>
    heldValue(view, name),
  )
  if (ls == null || lr == null || us == null || ur == null) return undefined
  const line = {
    lower: { signal: Number(ls), reading: Number(lr) },
    upper: { signal: Number(us), reading: Number(ur) },
    texts: { signal: us, reading: ur },
  }
  return line.upper.reading === line.lower.reading ? undefined : line
}

/** Signal that one unit of reading takes on a held line. */
export const signalPerReading = (line: HeldLine) => (line.upper.signal - line.lower.signal) / (line.upper.reading - line.lower.reading)

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
