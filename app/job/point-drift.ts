import { appliedWords } from '../applied-words.ts'
import type { PointDrift } from '../contract/visit-calls.ts'
import { asJudged } from '../evaluation/as-judged.ts'
import { baseOf, type EvaluatedStep, evaluateQuickCheck, superseded } from '../evaluation/quick-check.ts'
import type { Profile } from '../profile/schema.ts'
import { type Exact, exact, one, toDecimal, toSignificant, zero } from '../quantity/exact.ts'
import { decimalsWorth } from '../quantity/format.ts'
import { units } from '../quantity/units.ts'
import { explainImpliedFailure, impliedByHeld } from '../scaling/implied.ts'
import type { Point, QuickCheck, Visit } from './schema.ts'
import { visitNameOf } from './visit-name.ts'

const hundred = exact('100')
const relativeChange = (before: Exact, now: Exact) => now.div(before).sub(one).mul(hundred)
const percentText = (percent: Exact) => (percent.equals(zero) ? '0' : toSignificant(percent, 3))

/** What two visits say of one point. Units: the point's; sensitivities in mV/V at the capacity of its sensors. */
export function pointDriftOf(point: Point, profile: Profile | undefined, later: Visit, earlier: readonly Visit[]): PointDrift {
  const remarks: string[] = []
  return {
    pointId: point.id,
    tag: point.tag,
    unit: point.unit,
    implied: impliedChange(point, profile, later, earlier, remarks),
    ...checkDrift(point, later, earlier, remarks),
    remarks,
  }
}

function impliedChange(
  point: Point,
  profile: Profile | undefined,
  later: Visit,
  earlier: readonly Visit[],
  remarks: string[],
): PointDrift['implied'] {
  const { indicatorId } = point
  const found = indicatorId === undefined ? undefined : later.found[indicatorId]
  const then = indicatorId === undefined ? undefined : earlier.find((v) => v.left[indicatorId])
  const left = indicatorId === undefined ? undefined : then?.left[indicatorId]
  if (!profile || !found || !left || !then) return null
  const [before, now] = [impliedByHeld(point, profile, left), impliedByHeld(point, profile, found)]
  const unclear = !before.ok ? before.failure : !now.ok ? now.failure : null
  if (!before.ok || !now.ok) {
    if (unclear) remarks.push(`Sensitivity: ${explainImpliedFailure(unclear)}`)
    return null
  }
  const texts = [before, now].map((r) => toDecimal(r.value.sensitivity, 4))
  return {
    since: visitNameOf(then),
    before: texts[0] ?? '',
    now: texts[1] ?? '',
    changePercent: percentText(relativeChange(before.value.sensitivity, now.value.sensitivity)),
  }
}

const finished = (visit: Visit, pointId: string) => visit.checks.filter((c) => c.pointId === pointId && c.finishedAt && c.steps.length > 0)
/** As the point was left: the last check as left, else the last there is. */
const lastOf = (visit: Visit, pointId: string) =>
  finished(visit, pointId).findLast((c) => c.when === 'as-left') ?? finished(visit, pointId).at(-1)
const firstOf = (visit: Visit, pointId: string) =>
  finished(visit, pointId).find((c) => c.when === 'as-found') ?? finished(visit, pointId)[0]

function checkDrift(point: Point, later: Visit, earlier: readonly Visit[], remarks: string[]): Pick<PointDrift, 'zero' | 'span'> {
  const none = { zero: null, span: null }
  const now = firstOf(later, point.id)
  const then = earlier.find((v) => lastOf(v, point.id))
  const before = then && lastOf(then, point.id)
  if (!now || !before) {
    remarks.push(`No quick check was finished in ${now ? 'an earlier' : 'the later'} visit: zero and span are not compared.`)
    return none
  }
  const [old, fresh] = [seen(before, point), seen(now, point)]
  if (!old || !fresh) {
    remarks.push('The units of the checks do not compare with that of the point.')
    return none
  }
  remarks.push(...remarksOn(before, now, point))
  const since = visitNameOf(then)
  return { zero: zeroDrift(old, fresh, point, since), span: spanDrift(old, fresh, point, since, remarks) }
}

/** `zero`: error at the base of the check. `most`: what the step furthest from it applied, and what the reading rose by. */
type Seen = { zero: Exact | undefined; most: { load: Exact; over: Exact; rise: Exact } | undefined }

function seen(check: QuickCheck, point: Point): Seen | null {
  // Gauge or absolute as it was then; all else in the unit and by the interval of now, so that two checks compare.
  const then = { ...point, loadPath: asJudged(check, point).loadPath }
  const { steps } = evaluateQuickCheck(check, then)
  if (steps.length === 0) return null
  const base = baseOf(steps, then)
  const atBase = steps.find((s) => s.load.equals(base))
  const [first, ...rest] = steps.filter((s) => !s.load.equals(base))
  const far = (s: EvaluatedStep) => s.load.sub(base).abs()
  const most = first && rest.reduce((most, s) => (far(s).gt(far(most)) ? s : most), first)
  return {
    zero: atBase?.error,
    most: most && atBase && { load: most.load, over: most.load.sub(base), rise: most.reading.sub(atBase.reading) },
  }
}

function remarksOn(before: QuickCheck, now: QuickCheck, point: Point): string[] {
  const list: string[] = []
  if (before.when !== 'as-left') list.push('The earlier check was made as found: what was changed after it counts as drift.')
  if (now.when !== 'as-found') list.push('The later check was made as left: what was changed before it counts as drift.')
  const changed = superseded(before.held, now.held, point.channel)
  if (changed === 'yes') list.push('The scaling held was not the same in both checks: the drift is not that of sensor and load path alone.')
  if (changed === 'unknown') list.push('Whether the scaling was the same in both checks is not known.')
  list.push('A zero or tare set in between hides what the zero has drifted.')
  return list
}

/** Each reading is rounded by at most half an interval, so that two differ by up to one without any drift. */
function zeroDrift(old: Seen, now: Seen, point: Point, since: NonNullable<PointDrift['zero']>['since']): PointDrift['zero'] {
  if (!old.zero || !now.zero) return null
  const interval = exact(point.scaleInterval)
  const drift = now.zero.sub(old.zero)
  const places = decimalsWorth(interval)
  return {
    since,
    before: toDecimal(old.zero, places),
    now: toDecimal(now.zero, places),
    drift: toDecimal(drift, places),
    intervals: toDecimal(drift.div(interval), 1),
    resolved: drift.abs().gt(interval),
  }
}

/** Two rounded readings make a span, off by at most one interval; two spans compare no better than the sum, in percent of their loads. */
function spanDrift(
  old: Seen,
  now: Seen,
  point: Point,
  since: NonNullable<PointDrift['span']>['since'],
  remarks: string[],
): PointDrift['span'] {
  if (!old.most || !now.most) return null
  const interval = exact(point.scaleInterval)
  const [was, is] = [old.most.rise.div(old.most.over), now.most.rise.div(now.most.over)]
  const { quantity } = appliedWords(point)
  if (was.lte(zero)) {
    remarks.push(`The earlier reading did not follow the ${quantity}: there is no span to compare with.`)
    return null
  }
  const { symbol } = units[point.unit]
  const [loadBefore, loadNow] = [old.most.load, now.most.load].map((load) => toDecimal(load, decimalsWorth(load)))
  if (!old.most.load.equals(now.most.load))
    remarks.push(
      `The largest ${quantity}s were ${loadBefore} and ${loadNow} ${symbol}: a curve of the sensor can pass for drift of the span.`,
    )
  const drift = relativeChange(was, is)
  const rounding = interval.div(old.most.over.abs()).add(interval.div(now.most.over.abs())).mul(hundred)
  return {
    since,
    loadBefore: loadBefore ?? '',
    loadNow: loadNow ?? '',
    driftPercent: toDecimal(drift, decimalsWorth(rounding)),
    roundingPercent: toSignificant(rounding, 2),
    resolved: drift.abs().gt(rounding),
  }
}
