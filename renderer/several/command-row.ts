import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { TakenOff } from '../../app/contract/command-calls.ts'
import type { Point } from '../../app/job/schema.ts'
import { exact, toDecimal } from '../../app/quantity/exact.ts'
import type { DecimalSign } from '../../app/quantity/format.ts'
import { units } from '../../app/quantity/units.ts'
import { briefly, explain } from '../figures/explain.ts'
import { decimalsOf, numberText } from '../figures/number-text.ts'
import type { NotReached } from '../state/host-context.tsx'

/**
 * What is known of one point before it is commanded. `never`: looking again would not change it.
 * `silent`: it could not be looked at this time; `why` the whole sentence.
 */
export type Row = { point: Point } & (
  | { at: 'reading' }
  | { at: 'never'; why: string }
  | { at: 'silent'; word: string; why: string; when: Date }
  | { at: 'known'; taken: TakenOff; agreed: boolean; vented: boolean }
)

type Answer =
  | { ok: true; value: TakenOff }
  | { ok: false; failure: BusFailure | { kind: 'refused-request'; why: string; where?: string | undefined } | NotReached }

/** The row of a point that was looked at: a refusal of the host is for good, a lost answer is not. */
export function rowOf(point: Point, answer: Answer, when: Date): Row {
  if (answer.ok) return { point, at: 'known', taken: answer.value, agreed: false, vented: false }
  const { failure } = answer
  const why = explain(failure)
  if (failure.kind === 'refused-request') return { point, at: 'never', why }
  return { point, at: 'silent', word: failure.kind === 'not-reached' ? 'not asked' : briefly(failure), why, when }
}

/** What is taken off, with the decimals of the scale interval as its reading has; null where it is not known. */
export function amountText({ amount, unit }: TakenOff, point: Pick<Point, 'scaleInterval'>, sign: DecimalSign): string | null {
  if (amount === null) return null
  return `${numberText(toDecimal(exact(amount), decimalsOf(point.scaleInterval)), sign)} ${units[unit].symbol}`
}

export const isConfirmed = ({ taken, agreed, vented }: Extract<Row, { at: 'known' }>) =>
  taken.confirm.every((what) => (what === 'above-limit' ? agreed : what === 'vented' ? vented : false))
