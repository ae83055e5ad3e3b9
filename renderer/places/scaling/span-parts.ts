import { appliedKind } from '../../../app/applied-words.ts'
import type { Point } from '../../../app/job/schema.ts'
import { exact, fromInteger, maximum, minimum, one, sum } from '../../../app/quantity/exact.ts'
import { gravityHere, gravityStated } from '../../../app/scaling/gravity-ratio.ts'
import type { ScalingProposal } from '../../../app/scaling/propose-scaling.ts'

export type SpanPart = {
  what: string
  /** Share of the span in percent; absent where its size is not known, then `says` tells why. */
  percent?: number
  /** It moves the span one way; otherwise it may lie on either side. */
  signed: boolean
  says?: string
  attention?: boolean
}

const hundred = exact('100')

/** Everything that makes the span another than rated output times share, each in percent of it. */
export function spanParts(point: Point, { line, pairs }: ScalingProposal): SpanPart[] {
  return [
    certificates(point),
    trim(point),
    cable(line.leadsLeave.sub(one).mul(hundred).valueOf()),
    ...(appliedKind(point) === 'load' ? [gravity(point)] : []),
    rounding(pairs.rounding.atMost.percent.valueOf()),
  ]
}

/** Half the spread of rated outputs in one unit: what unequal sensors can make under a load off centre. */
function certificates(point: Point): SpanPart {
  const what = 'Sensors differ'
  const outputs = point.sensors.certificates.flatMap((c) => (c.ratedOutput ? [c.ratedOutput] : []))
  const [first, ...rest] = outputs.map((o) => exact(o.value))
  if (!first || rest.length === 0) return { what, signed: false, says: 'one sensor' }
  if (new Set(outputs.map((o) => o.unit)).size > 1) return { what, signed: false, says: 'certified in different units' }
  const mean = sum([first, ...rest]).div(fromInteger(rest.length + 1))
  const spread = maximum(first, ...rest)
    .sub(minimum(first, ...rest))
    .div(fromInteger(2))
  return { what, signed: false, percent: spread.div(mean).mul(hundred).valueOf() }
}

const trim = (point: Point): SpanPart =>
  point.sensors.trimmed
    ? { what: 'Trim in the junction box', signed: false, says: 'size not known', attention: true }
    : { what: 'Trim in the junction box', signed: false, says: 'not trimmed' }

const cable = (percent: number): SpanPart =>
  percent === 0 ? { what: 'Cable', signed: true, says: 'no loss counted' } : { what: 'Cable', signed: true, percent }

function gravity(point: Point): SpanPart {
  const what = 'Gravity here ÷ certificate'
  const here = gravityHere(point)
  const [first, ...rest] = point.sensors.certificates.map((c) => gravityStated(c.gravity, 'certificate'))
  if (!here.ok || !first?.ok || !here.value || !first.value) return { what, signed: true, says: 'not stated' }
  const certified = first.value
  if (rest.some((g) => !g.ok || !g.value?.equals(certified))) return { what, signed: true, says: 'differs between sensors' }
  return { what, signed: true, percent: here.value.div(certified).sub(one).mul(hundred).valueOf() }
}

const rounding = (percent: number): SpanPart => ({ what: 'Rounding, at most', signed: false, percent })
