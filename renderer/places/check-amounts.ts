import { appliedKind } from '../../app/applied-words.ts'
import type { QuickCheck } from '../../app/job/schema.ts'
import { parseNumber } from '../../app/quantity/parse.ts'
import { decimalsOf, fixedText, numberText } from '../figures/number-text.ts'
import { keptState, withKeys } from '../state/kept-state.ts'
import type { PointView } from '../state/point-view.ts'

type Kept = { checkId: string; step: number; typed: string }
/** The amount that somebody typed for a step of the check under way; it must not become another one by loading the page again. */
const typedAmount = keptState<Kept | null>('check-load', null, withKeys<Kept>('checkId', 'step', 'typed'))

/**
 * What the three steps apply, in the point's unit, and what the field of the step under way shows; undefined where its amount is not
 * typed but known: nought. An absolute transducer has no nought: its first step is at air pressure by a barometer, which is typed.
 */
export function useAmounts(view: PointView, check: QuickCheck) {
  const { point, job, applied } = view
  const { steps, id } = check
  const sign = job.decimalSign
  const done = steps.length
  const kept = typedAmount.use()
  const absolute = appliedKind(point) === 'absolute'
  const suggested = () => {
    if (applied && Number(applied.load) !== Number(steps[0]?.load ?? 0)) return numberText(applied.load, sign)
    return done === 0 ? '' : numberText(half(point.maximumLoad), sign)
  }
  const field = done === 1 || (done === 0 && absolute) ? (kept?.checkId === id && kept.step === done ? kept.typed : suggested()) : undefined
  const parsed = field === undefined ? undefined : parseNumber(field, sign)
  const typed = parsed?.ok ? parsed.value : ''
  const base = absolute ? (steps[0]?.load ?? typed) : '0'
  const amounts = [base, steps[1]?.load ?? (done === 1 ? typed : ''), base] as const
  return {
    amounts,
    amount: amounts[done] ?? '',
    field,
    wrong: parsed && !parsed.ok && field !== '' ? parsed.failure.why : null,
    type: (text: string) => typedAmount.set({ checkId: id, step: done, typed: text }),
  }
}

const half = (maximum: string) => fixedText(Number(maximum) / 2, decimalsOf(maximum)).replace(/[^\d.]/g, '')
