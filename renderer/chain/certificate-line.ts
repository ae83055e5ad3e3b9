import type { Point } from '../../app/job/schema.ts'
import type { Result } from '../../app/result.ts'
import { type CertificateScaling, lineFromCertificates } from '../../app/scaling/certificate-scaling.ts'
import type { ScalingFailure } from '../../app/scaling/scaling-failure.ts'

const computed = new WeakMap<Point, Result<CertificateScaling, ScalingFailure>>()

/** The exact line by the certificates, computed once for each state of a point. */
export function certificateLine(point: Point): Result<CertificateScaling, ScalingFailure> {
  const known = computed.get(point)
  if (known) return known
  const fresh = lineFromCertificates(point)
  computed.set(point, fresh)
  return fresh
}

/** Mean rated output of the point's sensors in mV/V; undefined where the certificates do not say enough. */
export function meanRatedOutput(point: Point): number | undefined {
  const result = certificateLine(point)
  return result.ok ? result.value.line.ratedOutput.valueOf() : undefined
}

/** Signal in mV/V that one unit of load adds by the certificates; undefined where they do not say enough. */
export function certifiedSignalPerLoad(point: Point): number | undefined {
  const result = certificateLine(point)
  return result.ok ? result.value.line.slope.valueOf() : undefined
}
