import { appliedWords } from '../applied-words.ts'
import type { TakenOff } from '../contract/command-calls.ts'
import type { Point } from '../job/schema.ts'
import { convertDifference, dimensionOf } from '../quantity/convert.ts'
import { exact, exactDecimal, toDecimal, toSignificant } from '../quantity/exact.ts'
import { type UnitId, units } from '../quantity/units.ts'
import { fail, ok, type Result } from '../result.ts'

/**
 * More than this share of maximum load is confirmed for each point, in percent.
 * Source: OIML R 76-1:2006, 4.5.1: the overall effect of zero-setting is not more than 4 % of maximum capacity. Taken as a limit of attention here.
 */
export const zeroSettingLimitPercent = '4'

const word = { zero: 'zeroed', tare: 'tared' } as const

/** Why a point is never zeroed, tared or measured as its own zero; null where it may be. `never`: "zeroed". */
export function neverNought(point: Pick<Point, 'tag' | 'unit' | 'loadPath'>, never: string): string | null {
  const { pressure } = point.loadPath
  if (pressure === 'absolute') return `An absolute pressure is never ${never}: nothing but a vacuum is nought.`
  return dimensionOf(point.unit) === 'pressure' && pressure === undefined
    ? `Say first whether ${point.tag} measures gauge, absolute or differential pressure. An absolute pressure is never ${never}.`
    : null
}

/** What is to be known before a zero or tare; fails with a sentence where it is never done. */
export function takenOffBy(
  command: 'zero' | 'tare',
  point: Pick<Point, 'tag' | 'unit' | 'maximumLoad' | 'loadPath'>,
  reading: { text: string | null; unit: UnitId | undefined },
): Result<TakenOff, string> {
  const { pressure } = point.loadPath
  const isPressure = dimensionOf(point.unit) === 'pressure'
  const never = neverNought(point, word[command])
  if (never !== null) return fail(never)
  const confirm: TakenOff['confirm'] = isPressure || pressure !== undefined ? ['vented'] : []
  const base = { unit: point.unit, limitPercent: zeroSettingLimitPercent }
  if (reading.text === null) return ok({ ...base, amount: null, percentOfMaximum: null, confirm: ['amount-unknown', ...confirm] })
  const amount = convertDifference(exact(reading.text), reading.unit ?? point.unit, point.unit)
  if (!amount.ok)
    return fail(
      `The indicator reads in ${units[amount.failure.from].symbol}, the point in ${units[point.unit].symbol}; correct one of them first.`,
    )
  const percent = amount.value.div(exact(point.maximumLoad)).mul(exact('100'))
  const above = percent.abs().gt(exact(zeroSettingLimitPercent))
  return ok({
    ...base,
    amount: exactDecimal(amount.value) ?? toSignificant(amount.value, 9),
    percentOfMaximum: toDecimal(percent, 1),
    confirm: [...(above ? (['above-limit'] as const) : []), ...confirm],
  })
}

/** Why this is not confirmed yet, in sentences; null where it may be done. */
export function notConfirmed(
  command: 'zero' | 'tare',
  point: Pick<Point, 'tag' | 'unit' | 'scaleInterval' | 'loadPath'>,
  taken: TakenOff,
  given: { amount?: string | undefined; vented?: true | undefined } = {},
): string | null {
  const symbol = units[point.unit].symbol
  const why: string[] = []
  if (taken.confirm.includes('amount-unknown') && given.amount === undefined)
    why.push(`${point.tag} gives no number now: confirm what its panel shows before it is ${word[command]}.`)
  if (taken.confirm.includes('above-limit') && taken.amount !== null) {
    const takes = `This takes ${taken.amount} ${symbol} off ${point.tag}, ${taken.percentOfMaximum} % of ${appliedWords(point).maximum}`
    if (given.amount === undefined) why.push(`${takes}, more than ${taken.limitPercent} %: confirm that amount.`)
    else if (exact(given.amount).sub(exact(taken.amount)).abs().gt(exact(point.scaleInterval)))
      why.push(`${takes}, not the ${given.amount} ${symbol} that were confirmed. Look again and confirm what is there now.`)
  }
  if (taken.confirm.includes('vented') && !given.vented)
    why.push(`Confirm that ${point.tag} is ${appliedWords(point).steps[0]}: under pressure it would read nought and not be so.`)
  return why.length === 0 ? null : why.join(' ')
}
