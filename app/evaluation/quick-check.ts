import { appliedKind, appliedWords } from '../applied-words.ts'
import type { Point, QuickCheck, SettingsImage, Verdict } from '../job/schema.ts'
import { convert, dimensionOf } from '../quantity/convert.ts'
import { type Exact, exact, fromInteger, maximum, toSignificant, zero } from '../quantity/exact.ts'
import { type DecimalSign, formatDecimal } from '../quantity/format.ts'
import { units } from '../quantity/units.ts'

/** One step as evaluated; loads, readings and errors in the point's unit, exact. */
export type EvaluatedStep = {
  load: Exact
  reading: Exact
  /** Reading minus load, as indicated: the error at the base is not taken off. */
  error: Exact
  intervals: Exact
  /** Absent at zero load. */
  percentOfLoad?: Exact
  percentOfMaximum: Exact
  /** Is |error| at or below the tolerance? Absent without a tolerance. */
  withinTolerance?: boolean
}

export type QuickCheckResult = {
  steps: EvaluatedStep[]
  /** Last reading at the base of the check minus the first one; absent until both are taken. */
  zeroReturn?: Exact
  /** Step with the largest |error|; absent without steps. */
  worst?: EvaluatedStep
  verdict: Verdict
  /** Why the verdict is as it is, or what keeps it from being given. Sentences for people. */
  reasons: string[]
  /** What a reader has to know beside the verdict. */
  remarks: string[]
}

/** Highest load of a check that says something of the whole range: half of maximum load (common practice, no source). */
const tellingShare = exact('0.5')
const hundred = exact('100')

function evaluateSteps(check: Pick<QuickCheck, 'steps' | 'unit'>, point: Point, tolerance: Exact | undefined): EvaluatedStep[] | undefined {
  const steps: EvaluatedStep[] = []
  for (const step of check.steps) {
    const load = convert(exact(step.load), check.unit, point.unit)
    const reading = convert(exact(step.reading), check.unit, point.unit)
    if (!load.ok || !reading.ok) return undefined
    const error = reading.value.sub(load.value)
    steps.push({
      load: load.value,
      reading: reading.value,
      error,
      intervals: error.div(exact(point.scaleInterval)),
      ...(load.value.equals(zero) ? {} : { percentOfLoad: error.div(load.value).mul(hundred) }),
      percentOfMaximum: error.div(exact(point.maximumLoad)).mul(hundred),
      ...(tolerance ? { withinTolerance: error.abs().lte(tolerance) } : {}),
    })
  }
  return steps
}

/**
 * Whether an error is beyond the tolerance for certain: a reading rounded to an interval coarser than the tolerance proves it only beyond
 * half an interval more. All in one unit, compared exactly; what is on the limit is not beyond it.
 */
export const provenBeyond = (error: Exact, tolerance: Exact, interval: Exact): boolean =>
  error.abs().gt(interval.gt(tolerance) ? tolerance.add(interval.div(fromInteger(2))) : tolerance)

/**
 * Where a check begins and ends: at nought; on an absolute transducer, which has no nought to go back to, at the pressure of its first
 * step (air pressure by a barometer). In the point's unit.
 */
export const baseOf = (steps: readonly EvaluatedStep[], point: Point): Exact =>
  appliedKind(point) === 'absolute' ? (steps[0]?.load ?? zero) : zero

/** What is missing of the base, something known, and the base again. */
function missing(steps: EvaluatedStep[], base: Exact, point: Point): string[] {
  const [first, last] = [steps[0], steps.at(-1)]
  const { known, steps: names } = appliedWords(point)
  const list: string[] = []
  if (!first?.load.equals(base)) list.push(`The first step, ${names[0]}, is missing.`)
  const lastLoaded = steps.findLastIndex((s) => !s.load.equals(base))
  if (lastLoaded < 0) list.push(`No ${known} was applied.`)
  else if (!last?.load.equals(base)) list.push(`The last step, ${names[2]}, is missing.`)
  return list
}

/**
 * Evaluates a quick check: error of each step as indicated, zero return, and the verdict against the point's tolerance.
 * Units: the point's; everything is compared exactly, a value on the limit is within.
 * `outside` needs one proven error only; `within` needs the base, something known and the base again, and a scale interval no coarser than the tolerance.
 * `sign` is the decimal sign of the numbers in its sentences.
 * Limits: no uncertainty is counted; a calibration run does that.
 */
export function evaluateQuickCheck(
  check: Pick<QuickCheck, 'steps' | 'unit' | 'takenBack'>,
  point: Point,
  sign: DecimalSign = '.',
): QuickCheckResult {
  const amount = (value: Exact) => formatDecimal(shortest(value), sign)
  const interval = exact(point.scaleInterval)
  if (interval.lte(zero) || exact(point.maximumLoad).lte(zero))
    return undecided([], [`${appliedWords(point).maximumName} or scale interval of the point is not above nought.`])
  const tolerance = point.tolerance && exact(point.tolerance.value)
  const usable = tolerance?.gte(zero) ? tolerance : undefined
  const steps = evaluateSteps(check, point, usable)
  if (!steps)
    return undecided([], [`The check is in ${units[check.unit].symbol}, the point in ${units[point.unit].symbol}: they do not compare.`])
  const base = baseOf(steps, point)
  const common = {
    steps,
    ...zeroReturnOf(steps, base),
    ...worstOf(steps),
    remarks: [...remarksOf(steps, point), ...takenBackIn(check, sign)],
  }
  if (!tolerance) return { ...common, verdict: 'cannot-be-judged', reasons: ['No tolerance is stated for this point.'] }
  if (!usable) return { ...common, verdict: 'cannot-be-judged', reasons: ['The tolerance is below nought.'] }

  const { symbol } = units[point.unit]
  const coarse = interval.gt(usable)
  const proven = steps.filter((s) => provenBeyond(s.error, usable, interval))
  if (proven.length > 0)
    return {
      ...common,
      verdict: 'outside',
      reasons: proven.map(
        (s) =>
          `At ${amount(s.load)} ${symbol} the error is ${amount(s.error)} ${symbol}, beyond the tolerance of ${amount(usable)} ${symbol}.`,
      ),
    }
  const reasons = missing(steps, base, point)
  if (coarse)
    reasons.push(
      `The scale interval (${amount(interval)} ${symbol}) is coarser than the tolerance (${amount(usable)} ${symbol}): the reading cannot show it.`,
    )
  if (reasons.length > 0) return { ...common, verdict: 'cannot-be-judged', reasons }
  return { ...common, verdict: 'within', reasons: [`No error is beyond the tolerance of ${amount(usable)} ${symbol}.`] }
}

const undecided = (steps: EvaluatedStep[], reasons: string[]): QuickCheckResult => ({
  steps,
  verdict: 'cannot-be-judged',
  reasons,
  remarks: [],
})
const shortest = (value: Exact) =>
  toSignificant(value, 6)
    .replace(/(\.\d*?)0+$/, '$1')
    .replace(/\.$/, '')

function zeroReturnOf(steps: EvaluatedStep[], base: Exact): { zeroReturn?: Exact } {
  const [first, last] = [steps[0], steps.at(-1)]
  const left = steps.some((s) => !s.load.equals(base))
  return first && last && left && first.load.equals(base) && last.load.equals(base) ? { zeroReturn: last.reading.sub(first.reading) } : {}
}

function worstOf(steps: EvaluatedStep[]): { worst?: EvaluatedStep } {
  const [first, ...rest] = steps
  return first ? { worst: rest.reduce((worst, s) => (s.error.abs().gt(worst.error.abs()) ? s : worst), first) } : {}
}

function remarksOf(steps: EvaluatedStep[], point: Point): string[] {
  const most = maximum(zero, ...steps.map((s) => s.load))
  const limit = exact(point.maximumLoad)
  const { quantity, maximum: top } = appliedWords(point)
  const list: string[] = []
  if (most.gt(zero) && most.lt(limit.mul(tellingShare)))
    list.push(`The largest ${quantity} was below half of ${top}; what happens above it was not seen.`)
  if (most.gt(limit)) list.push(`A ${quantity} beyond ${top} was applied.`)
  if (dimensionOf(point.unit) === 'pressure' && point.loadPath.pressure === undefined)
    list.push('Gauge, absolute or differential is not stated for this point; it was judged as gauge.')
  return list
}

/** A reading that was done again is no secret: whoever reads the result sees what was seen first. */
function takenBackIn({ takenBack = [], unit }: Pick<QuickCheck, 'takenBack' | 'unit'>, sign: DecimalSign): string[] {
  if (takenBack.length === 0) return []
  const { symbol } = units[unit]
  const each = takenBack.map((s) => `${formatDecimal(s.reading, sign)} at ${formatDecimal(s.load, sign)} ${symbol}`)
  return [`Taken back and done again: ${each.join(', ')}.`]
}

const scalingKeys = /^(scale\.|input\.range|excitation\.voltage|reading\.unit)/

/** Has the scaling changed since the check was made? unknown where either read is missing. `channel` is the point's. */
export function superseded(
  held: SettingsImage | undefined,
  now: SettingsImage | null | undefined,
  channel: number,
): 'yes' | 'no' | 'unknown' {
  if (!held || !now) return 'unknown'
  const keys = [...new Set([...Object.keys(held.values), ...Object.keys(now.values)])].filter(
    (k) => scalingKeys.test(k) && (!k.includes('@') || k.endsWith(`@${channel}`)),
  )
  if (keys.length === 0) return 'unknown'
  return keys.some((k) => held.values[k]?.words.join() !== now.values[k]?.words.join()) ? 'yes' : 'no'
}
