import { appliedWords } from '../applied-words.ts'
import type { Point, QuickCheck } from '../job/schema.ts'
import { type DecimalSign, formatDecimal } from '../quantity/format.ts'
import { units } from '../quantity/units.ts'

/** What a check of this point is judged by, to be kept with it. */
export const judgedBy = ({ maximumLoad, scaleInterval, tolerance, loadPath }: Point): NonNullable<QuickCheck['judgedBy']> => ({
  maximumLoad,
  scaleInterval,
  ...(tolerance ? { tolerance } : {}),
  ...(loadPath.pressure ? { pressure: loadPath.pressure } : {}),
})

/** The point as it was when the check was finished, in what a check is judged by; as it is where the check does not say. */
export function asJudged({ judgedBy: then, unit }: Pick<QuickCheck, 'judgedBy' | 'unit'>, point: Point): Point {
  if (!then) return point
  const { tolerance: _tolerance, ...rest } = point
  const { pressure: _pressure, ...loadPath } = point.loadPath
  const { maximumLoad, scaleInterval, tolerance, pressure } = then
  return {
    ...rest,
    unit,
    maximumLoad,
    scaleInterval,
    ...(tolerance ? { tolerance } : {}),
    loadPath: { ...loadPath, ...(pressure ? { pressure } : {}) },
  }
}

/** What of it is another now, in sentences: a check judged by something else does not tell of the point as it is. */
export function changedSinceJudged(check: Pick<QuickCheck, 'judgedBy' | 'unit'>, point: Point, sign: DecimalSign = '.'): string[] {
  if (!check.judgedBy) return []
  const then = asJudged(check, point)
  const say = (p: Point, value: string | undefined) =>
    value === undefined ? 'none' : `${formatDecimal(value, sign)} ${units[p.unit].symbol}`
  const kind = (p: Point) => p.loadPath.pressure ?? 'not stated'
  const facts = (p: Point) =>
    [
      ['The tolerance', say(p, p.tolerance?.value)],
      ['The scale interval', say(p, p.scaleInterval)],
      [`The ${appliedWords(p).maximumName.toLowerCase()}`, say(p, p.maximumLoad)],
      ['What the pressure counts from', kind(p)],
    ] as const
  const now = facts(point)
  return facts(then).flatMap(([what, was], i) => {
    const is = now[i]?.[1]
    return is === was ? [] : [`${what} was ${was} when it was judged, and is ${is} now.`]
  })
}
