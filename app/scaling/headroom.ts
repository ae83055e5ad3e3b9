import type { Point, SettingsImage } from '../job/schema.ts'
import type { Profile } from '../profile/schema.ts'
import { quantityIn } from '../quantity/convert.ts'
import { type Exact, exact, maximum, zero } from '../quantity/exact.ts'
import { ok, type Result } from '../result.ts'
import { expectedChain } from './expected-chain.ts'
import { type InputLimits, inputLimits } from './input-limit.ts'
import { overloadMargin } from './input-range.ts'
import type { ScalingFailure } from './scaling-failure.ts'

/** Signals at the input, in the unit of the range where there is one, else mV/V. */
export type Headroom = {
  unit: 'mV/V' | 'mV'
  zero: Exact
  zeroFrom: 'certificate' | 'measured'
  maximum: Exact
  /** Maximum load with the overload margin on top. */
  withMargin: Exact
  limits: InputLimits | null
  /** Why there are no limits, for people. */
  noLimits?: string
  /** margin-cut: maximum load fits, the margin above it does not. */
  verdict: 'fits' | 'margin-cut' | 'beyond' | 'not-judged'
  /** Part of the range up to the largest expected signal with its margin, percent. */
  usedPercent?: Exact
  /** Signal of one scale interval in µV, where the excitation is known, and the least that the profile states for holding it steady. */
  microvoltsPerInterval?: Exact
  leastMicrovolts?: Exact
}

/**
 * Where expected signals lie in the input: zero with dead load, maximum load, and the margin above (`overloadMargin` of the span).
 * `by` is the range that is judged: the one held, or the one intended before it is written; the other one where it is not known.
 */
export function headroom(
  point: Point,
  profile: Profile | undefined,
  held: SettingsImage | null,
  by: 'held' | 'intended' = 'held',
): Result<Headroom, ScalingFailure> {
  const atZero = expectedChain(point, profile, held, zero)
  if (!atZero.ok) return atZero
  const atMaximum = expectedChain(point, profile, held, exact(point.maximumLoad))
  if (!atMaximum.ok) return atMaximum
  const found = inputLimits(point, profile, held, by)
  const inMillivolts = typeof found !== 'string' && found.unit === 'mV'
  const volts = atZero.value.excitation?.volts
  const known = inMillivolts && !volts ? 'The range is in mV and the excitation is not known: measure it.' : found
  const scale = inMillivolts && volts ? volts : exact('1')
  const [low, high] = [atZero.value.inputSignal.mul(scale), atMaximum.value.inputSignal.mul(scale)]
  const withMargin = high.add(high.sub(low).mul(overloadMargin))
  const span = atMaximum.value.inputSignal.sub(atZero.value.inputSignal)
  const perInterval = volts && span.mul(volts).mul(exact('1000')).mul(exact(point.scaleInterval)).div(exact(point.maximumLoad))
  const least = profile?.input?.smallestSignalPerInterval && quantityIn(profile.input.smallestSignalPerInterval, 'uV')
  const common = {
    unit: inMillivolts && volts ? ('mV' as const) : ('mV/V' as const),
    zero: low,
    zeroFrom: atZero.value.zeroFrom,
    maximum: high,
    withMargin,
    ...(perInterval ? { microvoltsPerInterval: perInterval } : {}),
    ...(least?.ok ? { leastMicrovolts: least.value } : {}),
  }
  if (typeof known === 'string') return ok({ ...common, limits: null, noLimits: known, verdict: 'not-judged' })
  const { size } = known.limits
  const worst = maximum(low.abs(), withMargin.abs())
  const verdict = maximum(low.abs(), high.abs()).gt(size) ? 'beyond' : worst.gt(size) ? 'margin-cut' : 'fits'
  return ok({ ...common, limits: known.limits, verdict, usedPercent: worst.div(size).mul(exact('100')) })
}
