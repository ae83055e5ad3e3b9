import type { Difference } from '../../../app/contract/views.ts'
import { isScaling } from '../../../app/profile/scaling-registers.ts'
import { settingWords } from '../../../app/profile/setting-words.ts'
import type { DecimalSign } from '../../../app/quantity/format.ts'
import { units } from '../../../app/quantity/units.ts'
import { rightUnit } from '../../../app/scaling/implied-failure.ts'
import { bearsOnScaling, type OffAfterwards, scalingAsIntended } from '../../../app/scaling/scaling-afterwards.ts'
import { intendedTogether, offAsIntended } from '../../chain/intended-scaling-doubt.ts'
import { fixedText, numberText, signedFixedText } from '../../figures/number-text.ts'
import { settingText } from '../../parts/setting-text.ts'
import { ownDifferences, type PointView } from '../../state/point-view.ts'

/**
 * What the scaling would imply once everything intended is written, and what to do about it: two sentences, or none where it fits.
 * `offered` are the values that this place would put into what is intended.
 */
export function asIntendedWords(view: PointView, offered: Record<string, string>): { implies: string; todo: string } | undefined {
  const off = offAsIntended(view)
  if (!off) return undefined
  const sign = view.job.decimalSign
  const bearing = ownDifferences(view).filter((d) => bearsOnScaling(d.key))
  const settings = bearing.filter((d) => !isScaling(d.key))
  const changed = [...settings.map((d) => named(d, d.intended, sign)), ...(settings.length < bearing.length ? ['scaling values'] : [])]
  return {
    implies: `As intended${changed.length > 0 ? ` (${changed.join(', ')})` : ''}: ${implies(off, sign)}`,
    todo: mends(view, offered) ?? todo(off, sign),
  }

  /** The values on offer, where they would fit; they may put other settings in the place of those intended. */
  function mends({ point, profile, state }: PointView, values: Record<string, string>): string | undefined {
    if (!profile || !state?.held || Object.keys(values).length === 0) return undefined
    if (scalingAsIntended(point, profile, state.held, { ...intendedTogether(view), ...values })) return undefined
    const instead = settings.flatMap((d) => {
      const value = values[d.key]
      return value === undefined || value === d.intended ? [] : [named(d, value, sign)]
    })
    return `The values below fit${instead.length > 0 ? `, with ${instead.join(' and ')} instead` : ''}: put them into intended values.`
  }
}

function implies(off: OffAfterwards, sign: DecimalSign): string {
  if (off.kind === 'unit-of-another-kind')
    return `the indicator would show ${units[off.failure.unit].symbol}, the measuring point is in ${units[off.failure.pointUnit].symbol}.`
  const { sensitivity, certified, differencePercent } = off.implied
  const ratio = (value: typeof certified) => `${fixedText(value.valueOf(), 4, sign)} mV/V`
  return `the scaling would imply ${ratio(sensitivity)} at capacity, against ${ratio(certified)} certified, ${signedFixedText(differencePercent.valueOf(), 2, sign)} %.`
}

function todo(off: OffAfterwards, sign: DecimalSign): string {
  if (off.kind === 'unit-of-another-kind') return rightUnit(off.failure.unit, off.failure.pointUnit)
  if (!off.excitation) return 'Work it out for this input range, excitation and unit, or keep what is held.'
  const [measured, becomes] = [off.excitation.measured, off.excitation.becomes].map(
    (q) => `${numberText(q.value, sign)} ${units[q.unit].symbol}`,
  )
  return `The ${measured} of excitation measured are taken as ${becomes}, in proportion: write the excitation, measure it again, then work the scaling out.`
}

const named = (d: Difference, value: string, sign: DecimalSign) =>
  `${settingWords(d.key).toLowerCase()} ${settingText(value, sign)}${d.unit ? ` ${d.unit}` : ''}`
