import { describe, expect, it } from 'vitest'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { amountText, rowOf } from '../../../renderer/several/command-row.ts'

const point = practiceJob().points[0]!
const when = new Date(2026, 4, 6, 14, 3, 9)
const taken = { amount: '499.98', unit: 'kg', percentOfMaximum: '25.0', limitPercent: '4', confirm: [] } as const

describe('a point looked at before it is zeroed', () => {
  it('that the host refuses is never zeroed', () => {
    const failure = { kind: 'refused-request', why: 'An absolute pressure is never zeroed: nothing but a vacuum is nought.' } as const
    expect(rowOf(point, { ok: false, failure }, when)).toEqual({ point, at: 'never', why: failure.why })
  })

  it('whose answer is lost was silent at that moment, with the reason, and can be looked at again', () => {
    expect(rowOf(point, { ok: false, failure: { kind: 'no-reply', waitedMs: 500, tries: 2 } }, when)).toMatchObject({
      at: 'silent',
      word: 'no answer',
      when,
    })
    expect(rowOf(point, { ok: false, failure: { kind: 'stopped' } }, when)).toMatchObject({ at: 'silent', word: 'sending stopped' })
    expect(rowOf(point, { ok: false, failure: { kind: 'not-reached', why: 'The host does not answer.' } }, when)).toMatchObject({
      at: 'silent',
      word: 'not asked',
      why: 'The host does not answer.',
    })
  })

  it('that was read has what is to be confirmed still open', () => {
    expect(rowOf(point, { ok: true, value: { ...taken, confirm: [] } }, when)).toMatchObject({ at: 'known', agreed: false, vented: false })
  })
})

describe('what a zero takes off', () => {
  const text = (amount: string | null, scaleInterval: string) => amountText({ ...taken, amount, confirm: [] }, { scaleInterval }, ',')

  it('has the decimals of the scale interval, no more and no less', () => {
    expect(text('499.98', '0.2')).toBe('500,0 kg')
    expect(text('499.98', '5')).toBe('500 kg')
    expect(text('200', '0.2')).toBe('200,0 kg')
  })

  it('is not known where the indicator gives no number', () => expect(text(null, '0.2')).toBeNull())
})
