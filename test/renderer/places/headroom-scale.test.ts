import { describe, expect, it } from 'vitest'
import { appliedWords } from '../../../app/applied-words.ts'
import { exact } from '../../../app/quantity/exact.ts'
import type { Headroom } from '../../../app/scaling/headroom.ts'
import { labelsOf, spreadLabels } from '../../../renderer/places/input/headroom-scale.tsx'

describe('labels beside the scale of the input', () => {
  it('stay where they belong while there is room', () => {
    expect(spreadLabels([100, 20, 60], 18, 0, 200)).toEqual([100, 20, 60])
  })

  it('are pushed apart, in their order, and stay inside', () => {
    expect(spreadLabels([50, 52, 51], 10, 0, 200)).toEqual([50, 70, 60])
    expect(spreadLabels([195, 198, 10], 10, 0, 200)).toEqual([190, 200, 10])
  })
})

describe('what is written beside the scale of the input', () => {
  const room: Headroom = {
    unit: 'mV/V',
    zero: exact('0'),
    zeroFrom: 'certificate',
    maximum: exact('2'),
    withMargin: exact('2.2'),
    limits: null,
    verdict: 'not-judged',
  }
  const texts = (unit: 'kg' | 'bar') => labelsOf(room, appliedWords({ unit, loadPath: { sharePercent: '100' } }), String).map((l) => l.text)

  it('is in the words of what is applied', () => {
    expect(texts('kg')).toEqual(['2.2 with overload margin', '2 maximum load, expected', '0 zero, expected'])
    expect(texts('bar')).toEqual(['2.2 with overpressure margin', '2 upper range value, expected', '0 zero, expected'])
  })
})
