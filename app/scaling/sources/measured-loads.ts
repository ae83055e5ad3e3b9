import { appliedWords } from '../../applied-words.ts'
import type { Point } from '../../job/schema.ts'
import { quantityIn } from '../../quantity/convert.ts'
import { type Exact, exact, fromInteger, maximum, one, sum, toSignificant, zero } from '../../quantity/exact.ts'
import type { QuantityText } from '../../quantity/quantity-text.ts'
import { fail, ok, type Result } from '../../result.ts'
import { type CurvePoint, type LineScaling, lineFromCertificates } from '../certificate-scaling.ts'
import { inPointUnit } from '../gravity-ratio.ts'
import type { ScalingFailure, ScalingWarning } from '../scaling-failure.ts'

/** A measured signal in mV/V; one in mV needs the excitation measured with it (V). */
export function measuredSignal(signal: QuantityText, excitation: Exact | undefined, what: string): Result<Exact, ScalingFailure> {
  const [ratio, millivolts] = [quantityIn(signal, 'mV/V'), quantityIn(signal, 'mV')]
  if (ratio.ok) return ok(ratio.value)
  if (!millivolts.ok) return fail({ kind: 'wrong-unit', what, unit: signal.unit, right: 'mV/V' })
  return excitation ? ok(millivolts.value.div(excitation)) : fail({ kind: 'excitation-not-measured' })
}

/** The excitation in V that a signal was taken at, where it was kept with one; else the one now. */
export function excitationOf(own: QuantityText | undefined, now: Exact | undefined): Exact | undefined {
  const volts = own && quantityIn(own, 'V')
  return volts?.ok && volts.value.gt(zero) ? volts.value : now
}

/** Straight line through points: by least squares on the load, or through the lowest and the highest. Exact. */
function fitLine(points: readonly CurvePoint[], how: 'least-squares' | 'end-points'): { slope: Exact; zeroSignal: Exact } {
  const sorted = [...points].sort((a, b) => a.load.compare(b.load))
  const used = how === 'end-points' ? [sorted[0], sorted.at(-1)].flatMap((p) => (p ? [p] : [])) : sorted
  const mean = (values: Exact[]) => sum(values).div(fromInteger(values.length))
  const [load, signal] = [mean(used.map((p) => p.load)), mean(used.map((p) => p.signal))]
  const slope = sum(used.map((p) => p.load.sub(load).mul(p.signal.sub(signal)))).div(
    sum(used.map((p) => p.load.sub(load).mul(p.load.sub(load)))),
  )
  return { slope, zeroSignal: signal.sub(slope.mul(load)) }
}

/**
 * Line of a point from its signals under two or more known loads: least squares unless end points are chosen, residuals beside it.
 * Loads in any unit that leads to the point's; signals in mV by the excitation they were taken at, else by `excitation` (V). The certificates, where they suffice, only tell the capacity.
 */
export function lineFromLoads(point: Point, excitation: Exact | undefined): Result<LineScaling, ScalingFailure> {
  const { quantity } = appliedWords(point)
  const points: CurvePoint[] = []
  for (const measured of point.measured.loads ?? []) {
    const load = inPointUnit(measured.load, 'applied load', point)
    if (!load.ok) return load
    const signal = measuredSignal(measured.signal, excitationOf(measured.excitation, excitation), 'measured signal')
    if (!signal.ok) return signal
    points.push({ load: load.value, signal: signal.value })
  }
  if (points.every((p) => p.load.equals(points[0]?.load ?? zero)))
    return fail({ kind: 'source-incomplete', need: `it needs the signal at two different ${quantity}s at least` })
  const { slope, zeroSignal } = fitLine(points, point.measured.loadsFit ?? 'least-squares')
  if (slope.lte(zero))
    return fail({ kind: 'source-incomplete', need: `the measured signals do not rise with the ${quantity}; look at the signal leads` })
  const [maximumLoad, scaleInterval] = [exact(point.maximumLoad), exact(point.scaleInterval)]
  if (maximumLoad.lte(zero)) return fail({ kind: 'not-above-nought', what: 'maximum load', value: point.maximumLoad })
  if (scaleInterval.lte(zero)) return fail({ kind: 'not-above-nought', what: 'scale interval', value: point.scaleInterval })
  const certified = lineFromCertificates(point)
  const capacityLoad = certified.ok ? certified.value.line.capacityLoad : maximumLoad
  const deadLoad = certified.ok ? certified.value.line.deadLoad : zero
  const residuals = points.map((p) => p.signal.sub(zeroSignal).sub(slope.mul(p.load)))
  const line = {
    unit: point.unit,
    zeroSignal,
    slope,
    leadsLeave: one,
    ratedOutput: slope.mul(capacityLoad),
    capacityLoad,
    deadLoad,
    maximumLoad,
    scaleInterval,
  }
  const capacityWarnings = certified.ok ? certified.value.warnings.filter((w) => w.kind === 'beyond-capacity') : []
  return ok({ line, residuals, warnings: [...capacityWarnings, ...bentWarning(residuals, slope, scaleInterval)] })
}

function bentWarning(residuals: readonly Exact[], slope: Exact, scaleInterval: Exact): ScalingWarning[] {
  const worst = maximum(zero, ...residuals.map((r) => r.abs())).div(slope.mul(scaleInterval))
  if (worst.lte(exact('0.5'))) return []
  return [
    {
      kind: 'loads-not-on-a-line',
      why: `A measured signal lies ${toSignificant(worst, 2)} scale intervals off the line. Repeat it before the line is used.`,
    },
  ]
}
