import { describe, expect, it } from 'vitest'
import { beyondMaximum } from '../../../renderer/chain/beyond-maximum.ts'
import { needsAttention } from '../../../renderer/chain/chain-cells.ts'
import { readingState } from '../../../renderer/chain/reading-text.ts'
import { captureReady } from '../../../renderer/places/capture-ready.ts'
import type { PointView } from '../../../renderer/state/point-view.ts'
import { freshLive, makeView, staleLive } from '../../builders/point-view.ts'

type Reading = { reading: string; unit?: string; gross?: string; status?: string[]; stale?: true }

/** A point up to 500 kg in steps of 0.1 kg. */
function viewOf({ reading, unit = 'kg', gross, status = [], stale }: Reading): PointView {
  const sample = {
    ...{ pointId: 'p1', at: 0, reading, gross: gross ?? null, unit, status },
    ...({ signal: null, signalUnit: 'mV/V', signalOrigin: 'none' } as const),
  }
  return makeView({ live: stale ? staleLive(sample) : freshLive(sample) })
}

describe('a reading above the maximum load', () => {
  // by hand: 500 kg + 9 × 0.1 kg = 500.9 kg
  it('begins above maximum load and nine scale intervals', () => {
    expect(beyondMaximum(viewOf({ reading: '500.9' }))).toBeUndefined()
    expect(beyondMaximum(viewOf({ reading: '501.0' }))).toEqual({ word: 'above Max', percent: '100' })
  })

  it('is lost in tone, said in words and in percent, and comes first where a look is needed', () => {
    const view = viewOf({ reading: '606.3' })

    expect(readingState(view)).toMatchObject({ word: 'above Max, 121 %', alarm: 'above Max', tone: 'lost', struck: false })
    expect(needsAttention(view)[0]).toEqual({ phrase: 'above Max, 121 %', tone: 'lost' })
  })

  it('counts gross, however small the net reading is', () => {
    expect(readingState(viewOf({ reading: '3.0', gross: '606.3', status: ['net'] })).alarm).toBe('above Max')
    expect(beyondMaximum(viewOf({ reading: '606.3', status: ['net'] }))).toBeUndefined()
  })

  it('is compared in the unit of the point', () => {
    expect(beyondMaximum(viewOf({ reading: '606.3', unit: 'lb' }))).toBeUndefined()
    expect(beyondMaximum(viewOf({ reading: '0.6063', unit: 't' }))).toMatchObject({ percent: '121' })
  })

  it('is told beside what the indicator reports, and on the other side of zero, too', () => {
    expect(readingState(viewOf({ reading: '606.3', status: ['over-range'] })).word).toBe('above Max, 121 %, over range')
    expect(readingState(viewOf({ reading: '-606.3' }))).toMatchObject({ word: 'beyond −Max, 121 %', tone: 'lost' })
  })

  it('is not said of a reading that is old', () => {
    expect(readingState(viewOf({ reading: '606.3', stale: true })).alarm).toBeNull()
  })

  it('may still be taken in a check, which shows what wrong scaling values make', () => {
    expect(captureReady(viewOf({ reading: '606.3' }), '400', undefined).armed).toBe(true)
  })
})
