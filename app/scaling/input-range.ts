import { appliedWords } from '../applied-words.ts'
import type { Point } from '../job/schema.ts'
import { type Profile, registerKey } from '../profile/schema.ts'
import { quantityIn } from '../quantity/convert.ts'
import { type Exact, exact, maximum, toDecimal, toSignificant, zero } from '../quantity/exact.ts'
import { fail, ok, type Result } from '../result.ts'
import type { ExactLine } from './certificate-scaling.ts'
import { channelRegister } from './reading-settings.ts'
import type { ScalingFailure, ScalingWarning } from './scaling-failure.ts'
import { quantityStated } from './stated-quantity.ts'

export type InputChoice = {
  values: Record<string, string>
  /** Why this range, in one sentence. */
  why: string
  /** Signals that the input has to take, mV/V. */
  signalAtZero: Exact
  signalAtMaximum: Exact
  /** With the overload margin: the size that the range has to hold. */
  signalToHold: Exact
  /** Signal in microvolts of one scale interval; absent while the excitation is not known. */
  microvoltsPerInterval?: Exact
  warnings: ScalingWarning[]
}

/** Room above maximum load for what swings, tips in or is put on too much: a tenth of the span (common practice, no source). */
export const overloadMargin = exact('0.1')

/**
 * The input range that is intended, where it holds zero with dead load, the maximum and the overload margin; else the smallest that does.
 * Signals in mV/V.
 */
export function chooseInputRange(
  line: ExactLine,
  point: Point,
  profile: Profile,
  excitation: Exact | undefined,
): Result<InputChoice, ScalingFailure> {
  const span = line.slope.mul(line.maximumLoad)
  const signalAtZero = line.zeroSignal
  const signalAtMaximum = signalAtZero.add(span)
  const signalToHold = maximum(signalAtZero.abs(), signalAtMaximum.add(span.mul(overloadMargin)).abs())
  const warnings: ScalingWarning[] = []
  const microvolts = excitation && line.slope.mul(line.scaleInterval).mul(excitation).mul(exact('1000'))
  const least = profile.input?.smallestSignalPerInterval && quantityIn(profile.input.smallestSignalPerInterval, 'uV')
  if (microvolts && least?.ok && microvolts.lt(least.value))
    warnings.push({
      kind: 'signal-per-interval-small',
      why: `One scale interval is ${toSignificant(microvolts, 3)} µV; this indicator needs ${toSignificant(least.value, 3)} µV to hold it steady. Choose a coarser scale interval.`,
    })
  const common = { signalAtZero, signalAtMaximum, signalToHold, ...(microvolts ? { microvoltsPerInterval: microvolts } : {}) }

  const r = channelRegister(profile, 'input.range', point.channel)
  if (!r?.options || r.access !== 'read-write')
    return ok({ ...common, values: {}, why: 'The input range of this indicator is not a setting.', warnings })
  const ranges = r.options
    .flatMap((o) => {
      const [ratio, millivolts] = [quantityStated(o.means, 'mV/V'), quantityStated(o.means, 'mV')]
      const size = ratio ?? (millivolts && excitation ? millivolts.div(excitation) : undefined)
      return size ? [{ means: o.means, size }] : []
    })
    .sort((a, b) => a.size.compare(b.size))
  const largest = ranges.at(-1)
  if (!largest) {
    warnings.push({ kind: 'input-range-not-chosen', why: 'The input ranges are in mV and the excitation is not known, so none is chosen.' })
    return ok({ ...common, values: {}, why: 'No input range is chosen.', warnings })
  }
  const show = (signal: Exact) => `${toDecimal(signal, 3)} mV/V`
  const smallest = ranges.find((x) => x.size.gte(signalToHold))
  if (!smallest) return fail({ kind: 'signal-beyond-input', signal: show(signalToHold), largest: largest.means })
  const dead = line.deadLoad.gt(zero) ? ' with dead load' : ''
  const signals = `${show(signalAtZero)} at zero${dead}, ${show(signalAtMaximum)} at ${appliedWords(point).maximum} and a tenth of the span more (${show(signalToHold)})`
  const holding = `${smallest.means} is the smallest range that holds ${signals}.`
  const intended = ranges.find((x) => x.means === point.intended[registerKey(r)])
  if (!intended || intended === smallest) return ok({ ...common, values: { [registerKey(r)]: smallest.means }, why: holding, warnings })
  if (intended.size.gte(signalToHold))
    return ok({ ...common, values: { [registerKey(r)]: intended.means }, why: `${intended.means} is intended. ${holding}`, warnings })
  warnings.push({
    kind: 'intended-range-too-small',
    why: `The intended input range of ${intended.means} does not hold ${signals}. ${smallest.means} is taken instead.`,
  })
  return ok({ ...common, values: { [registerKey(r)]: smallest.means }, why: holding, warnings })
}
