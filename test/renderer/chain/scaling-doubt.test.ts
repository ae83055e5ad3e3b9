import { describe, expect, it } from 'vitest'
import { chainCells, needsAttention } from '../../../renderer/chain/chain-cells.ts'
import { scalingDoubt } from '../../../renderer/chain/scaling-doubt.ts'
import type { PointView } from '../../../renderer/state/point-view.ts'
import { freshLive, holding, makeView, staleLive } from '../../builders/point-view.ts'
import { readingMark } from '../../builders/reading-mark.ts'
import { makeCertificate, makePoint, makeProfile, mvPerV } from '../../builders/weighing-point.ts'

const held = (upperSignal: string) => ({
  'scale.lower.signal@1': '0',
  'scale.lower.reading@1': '0',
  'scale.upper.signal@1': upperSignal,
  'scale.upper.reading@1': '500',
  'reading.unit@1': 'kg',
})

/** 500 kg on one sensor of 2 mV/V; a reading of 100.0 kg, steady. */
function viewOf(upperSignal: string, change: Record<string, unknown> = {}, stale = false): PointView {
  const sample = {
    pointId: 'p1',
    at: 0,
    reading: '100.0',
    gross: '100.0',
    unit: 'kg',
    signal: '0.4',
    signalUnit: 'mV/V' as const,
    signalOrigin: 'measured' as const,
    status: [],
  }
  return makeView({
    point: makePoint(change, [makeCertificate({ ratedOutput: mvPerV('2') })]),
    indicator: { id: 'i1', name: 'Unit', busId: 'b1', unit: 1, profileId: 'p' },
    profile: makeProfile(),
    state: holding(held(upperSignal)),
    live: stale ? staleLive(sample) : freshLive(sample),
  })
}

describe('a reading that wrong scaling values make', () => {
  // by hand: 1.8 mV/V for 500 kg against 2 mV/V certified is 10 % less
  it('is marked at the scaling and at the reading, though it is live and steady', () => {
    const view = viewOf('1.8')

    expect(scalingDoubt(view)).toEqual({ sensitivity: '1.8000', offPercent: '−10.00' })
    expect(chainCells.scaling(view).tone).toBe('attention')
    expect(chainCells.reading(view).detail).toBe('steady · scaling in doubt')
    expect(readingMark(view)).toContain('scaling in doubt')
  })

  it('is no less marked while something impossible lets nothing be judged; what is only missing marks nothing', () => {
    const impossible = viewOf('1.8', { loadPath: { gravityHere: { value: '98.1', unit: 'm/s2' } } })
    expect(chainCells.reading(impossible).detail).toBe('steady · scaling not judged')
    expect(readingMark(impossible)).toContain('scaling not judged')
    const missing = makeView({ ...viewOf('1.8'), point: makePoint({}, [makeCertificate({ ratedOutput: undefined })]) })
    expect(readingMark(missing)).toBe('')
  })

  it('needs attention once, for its scaling', () => {
    expect(needsAttention(viewOf('1.8')).map(({ phrase }) => phrase)).toEqual(['scaling −10.00 % off'])
  })

  it('is not marked where the values agree with the certificate', () => {
    expect(scalingDoubt(viewOf('2'))).toBeUndefined()
    expect(chainCells.reading(viewOf('2')).detail).toBe('steady · gross')
    expect(readingMark(viewOf('2'))).toBe('')
  })

  // by hand: 1.99 for 2 mV/V is 0.5 % less: 2.5 kg of 500 kg
  it('is judged by the tolerance of the point where there is one, else by one percent', () => {
    expect(scalingDoubt(viewOf('1.99'))).toBeUndefined()
    expect(scalingDoubt(viewOf('1.99', { tolerance: { value: '2', why: '' } }))).toMatchObject({ offPercent: '−0.50' })
    expect(scalingDoubt(viewOf('1.99', { tolerance: { value: '3', why: '' } }))).toBeUndefined()
  })

  it('stays marked once it is stale', () => {
    expect(chainCells.reading(viewOf('1.8', {}, true)).tone).toBe('lost')
    expect(readingMark(viewOf('1.8', {}, true))).toContain('scaling in doubt')
  })
})
