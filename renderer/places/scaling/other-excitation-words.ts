import { type Exact, exactDecimal, toSignificant } from '../../../app/quantity/exact.ts'
import type { DecimalSign } from '../../../app/quantity/format.ts'
import { otherExcitation, takenAtOther } from '../../../app/scaling/other-excitation.ts'
import { intendedTogether } from '../../chain/intended-scaling-doubt.ts'
import { numberText } from '../../figures/number-text.ts'
import type { PointView } from '../../state/point-view.ts'

const voltsText = (value: Exact, sign: DecimalSign) => `${numberText(exactDecimal(value) ?? toSignificant(value, 4), sign)} V`

/** What in mV is reckoned with an excitation other than the one held or intended, and what to do; undefined where there is none. */
export function otherExcitationWords(view: PointView): string | undefined {
  const { point, profile, state, job } = view
  const other = profile && state?.held ? otherExcitation(point, profile, state.held, intendedTogether(view)) : undefined
  if (!other) return undefined
  const { kept } = other
  const sign = job.decimalSign
  const volts = (value: Exact) => voltsText(value, sign)
  const signals = [
    ...(kept.loads > 0 ? [`${kept.loads} under known loads`] : []),
    ...(kept.zero ? ['zero'] : []),
    ...(kept.shunt ? ['shunt'] : []),
  ]
  const [what, again] =
    signals.length > 0
      ? [`Signals in mV taken here (${signals.join(', ')}) are`, 'take the signals again']
      : ['The scaling in mV is', 'work the scaling out again']
  const reckoned = `${what} reckoned with ${volts(other.measured)} of excitation, as measured.`
  const times = `every signal ${numberText(toSignificant(other.times, 3), sign)} times as large`
  return other.origin === 'held'
    ? `${reckoned} The indicator gives ${volts(other.nominal)}, which makes ${times}. Measure the excitation again, then ${again}.`
    : `${reckoned} ${volts(other.nominal)} is intended, which will make ${times}. Once it is written, measure the excitation again, then ${again}.`
}

const named = { loads: 'under known loads', zero: 'zero', shunt: 'shunt' } as const

/** What in mV was taken at an excitation other than the one now, and what to do; undefined where there is none. */
export function takenAtOtherWords({ point, profile, state, job }: PointView): string | undefined {
  const other = profile && takenAtOther(point, profile, state?.held ?? null)
  if (!other) return undefined
  const volts = (value: Exact) => voltsText(value, job.decimalSign)
  const each = other.taken.map(({ what, at }) => `${named[what]} at ${volts(at)}`)
  return `Signals in mV were taken at another excitation (${[...new Set(each)].join(', ')}); now it is ${volts(other.now)}. They are carried over in proportion, which leaves out what the input itself adds. Take them again.`
}
