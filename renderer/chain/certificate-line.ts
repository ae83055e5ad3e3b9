import type { Point } from '../../app/job/schema.ts'
import type { Result } from '../../app/result.ts'
import { type CertificateScaling, lineFromCertificates } from '../../app/scaling/certificate-scaling.ts'
import type { ScalingFailure } from '../../app/scaling/scaling-failure.ts'
import { pointLine } from '../../app/scaling/sources/line-sources.ts'

type Line = Result<CertificateScaling, ScalingFailure>

/** Computed once for each state of a point. */
function once(compute: (point: Point) => Line): (point: Point) => Line {
  const computed = new WeakMap<Point, Line>()
  return (point) => {
    const known = computed.get(point)
    if (known) return known
    const fresh = compute(point)
    computed.set(point, fresh)
    return fresh
  }
}

/** The exact line by the certificates. */
export const certificateLine = once(lineFromCertificates)

/** The exact line by what the point is scaled from. */
export const ownLine = once(pointLine)

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
