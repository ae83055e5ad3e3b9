import type { Point } from '../../job/schema.ts'
import { quantityIn } from '../../quantity/convert.ts'
import { type Exact, zero } from '../../quantity/exact.ts'
import type { Result } from '../../result.ts'
import { type LineScaling, lineFromCertificates } from '../certificate-scaling.ts'
import type { ScalingFailure } from '../scaling-failure.ts'
import { lineFromTables } from './certificate-table.ts'
import { lineFromLoads } from './measured-loads.ts'
import { lineFromShunt } from './shunt.ts'

/** `excitation` in V as measured; only for signals in mV. */
export type LineSource = (point: Point, excitation: Exact | undefined) => Result<LineScaling, ScalingFailure>

/** Every source that a point can be scaled from. */
export const lineSources: Record<NonNullable<Point['scalingFrom']>, LineSource> = {
  certificate: lineFromCertificates,
  'certificate-table': lineFromTables,
  'measured-loads': lineFromLoads,
  shunt: lineFromShunt,
}

/** The line of a point by the source that it is scaled from, with the excitation measured at it. */
export function pointLine(point: Point): Result<LineScaling, ScalingFailure> {
  const volts = point.measured.excitation && quantityIn(point.measured.excitation, 'V')
  return lineSources[point.scalingFrom ?? 'certificate'](point, volts?.ok && volts.value.gt(zero) ? volts.value : undefined)
}
