import type { Point } from '../../job/schema.ts'
import type { Exact } from '../../quantity/exact.ts'
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
