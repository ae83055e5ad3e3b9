import { provenBeyond } from '../../app/evaluation/quick-check.ts'
import type { Point } from '../../app/job/schema.ts'
import { type Exact, exact, toDecimal, zero } from '../../app/quantity/exact.ts'
import { units } from '../../app/quantity/units.ts'
import { decimalsOf, numberText, signedText } from '../figures/number-text.ts'
import type { PointView } from '../state/point-view.ts'
import { grossExact } from './gross-now.ts'
import { readingState } from './reading-text.ts'

export type ReadingOff = {
  /** "+1.0 kg at 200 kg on it". */
  error: string
  /** "+1.0 kg off at 200 kg": the same where there is little room. */
  brief: string
  /** "tolerance 0.4 kg". */
  tolerance: string
}

/** More decimals than this tell nobody anything. */
const mostMoreDecimals = 3

/** The host calls a reading steady by this much of it; all of that has to be from after the load was told. */
const steadyMs = 2_000
/**
 * A reading moves for a while after a load was put on. One that still is not steady so long afterwards is judged all the same: it may
 * never be, where the indicator is read too seldom or stands in vibration.
 */
const settlesMs = 10_000

/**
 * Where the live gross reading lies outside the tolerance of the point at the load that somebody said is on it. Compared exactly, by the
 * same rule as a check. Undefined where it lies within, and where nothing can be claimed: load or tolerance not known, reading not fresh,
 * not settled, with trouble of its own, or net with a tare that is not known.
 */
export function readingOff(view: PointView): ReadingOff | undefined {
  const { point, applied, job } = view
  if (!applied || !point.tolerance || readingState(view).tone !== 'plain' || !settled(view)) return undefined
  const gross = grossExact(view)
  if (gross === undefined) return undefined
  const [load, tolerance, interval] = [exact(applied.load), exact(point.tolerance.value), exact(point.scaleInterval)]
  const error = gross.sub(load)
  if (tolerance.lt(zero) || !provenBeyond(error, tolerance, interval)) return undefined
  const sign = job.decimalSign
  const { symbol } = units[point.unit]
  const by = `${signedText(toDecimal(error, decimalsToTell(error, point)), sign)} ${symbol}`
  const [at, without] = [`at ${numberText(applied.load, sign)} ${symbol}`, withoutLoad(load, point)]
  return {
    error: `${by} ${without ?? `${at} ${isPressure(point) ? 'applied' : 'on it'}`}`,
    brief: `${by} ${without ?? `off ${at}`}`,
    tolerance: `tolerance ${numberText(point.tolerance.value, sign)} ${symbol}`,
  }
}

function settled({ live, applied }: PointView): boolean {
  if (live?.state !== 'fresh' || !applied) return false
  const sinceMs = live.sample.at - applied.at
  return sinceMs >= (live.steady ? steadyMs : settlesMs)
}

/** Rounded like the reading, an error of 0.44 would be the 0.4 that is allowed: as many decimals as make it more. */
function decimalsToTell(error: Exact, { scaleInterval, tolerance }: Point): number {
  const worth = Math.max(decimalsOf(scaleInterval), decimalsOf(tolerance?.value ?? ''))
  const allowed = exact(tolerance?.value ?? '0')
  const enough = [0, 1, 2].find((more) => exact(toDecimal(error.abs(), worth + more)).gt(allowed))
  return worth + (enough ?? mostMoreDecimals)
}

const isPressure = ({ unit }: Point) => units[unit].dimension === 'pressure'

/** What nothing on the point is called; undefined where there is something, as always on an absolute sensor. */
function withoutLoad(load: Exact, point: Point): string | undefined {
  if (!load.equals(zero) || point.loadPath.pressure === 'absolute') return undefined
  return isPressure(point) ? 'while vented' : 'while empty'
}
