import { describe, expect, it } from 'vitest'
import { readAnewAfter, readingAcross, readingsNow } from '../../../renderer/review/readings-across.ts'
import type { PointView } from '../../../renderer/state/point-view.ts'
import { freshLive, makeView, staleLive } from '../../builders/point-view.ts'
import { makePoint } from '../../builders/weighing-point.ts'

/** A point up to 500 kg in steps of 0.1 kg with a tolerance of 0.4 kg, read at `at` ms. */
function viewOf(reading: string, at: number, load?: string, stale = false): PointView {
  const sample = {
    ...{ pointId: 'p1', at, reading, gross: reading, unit: 'kg', status: [] },
    ...({ signal: null, signalUnit: 'mV/V', signalOrigin: 'none' } as const),
  }
  return makeView({
    point: makePoint({ tolerance: { value: '0.4', why: '' } }),
    live: stale ? staleLive(sample) : freshLive(sample),
    ...(load === undefined ? {} : { applied: { load, at: -60_000 } }),
  })
}

function across(before: PointView, atEnd: PointView, now: PointView) {
  const [known] = readAnewAfter(readingsNow([before]), [atEnd])
  return known && readingAcross(now, known)
}

describe('a reading on either side of a write', () => {
  it('is told as it was, as it is, and as it should be by the load that is on', () => {
    expect(across(viewOf('222.3', 10, '200'), viewOf('222.3', 20, '200'), viewOf('200.1', 30, '200'))).toEqual({
      before: '222.3',
      now: '200.1',
      expected: '200.0',
      off: false,
    })
  })

  it('says of the reading now that it is outside the tolerance', () => {
    expect(across(viewOf('222.3', 10, '200'), viewOf('222.3', 20, '200'), viewOf('201.0', 30, '200'))).toMatchObject({
      now: '201.0',
      off: true,
    })
  })

  it('is not told by what was sampled before the write had ended', () => {
    const [before, atEnd] = [viewOf('222.3', 10, '200'), viewOf('210.0', 20, '200')]
    expect(across(before, atEnd, atEnd)).toMatchObject({ before: '222.3', now: null, off: false })
  })

  it('tells nothing that is not known', () => {
    expect(across(viewOf('222.3', 10), viewOf('222.3', 20), viewOf('200.1', 30))).toMatchObject({ now: '200.1', expected: null })
    expect(across(viewOf('222.3', 10), viewOf('222.3', 20), viewOf('222.3', 30, undefined, true))).toMatchObject({ now: null })
    expect(readingsNow([viewOf('222.3', 10, '200', true)])).toEqual([])
  })
})
