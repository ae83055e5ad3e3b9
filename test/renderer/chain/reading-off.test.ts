import { describe, expect, it } from 'vitest'
import { chainCells, needsAttention } from '../../../renderer/chain/chain-cells.ts'
import { readingOff } from '../../../renderer/chain/reading-off.ts'
import type { PointView } from '../../../renderer/state/point-view.ts'
import { rowData } from '../../../renderer/table/row-data.ts'
import { freshLive, makeView, staleLive } from '../../builders/point-view.ts'
import { readingMark } from '../../builders/reading-mark.ts'
import { makePoint } from '../../builders/weighing-point.ts'

type Known = {
  reading: string
  unit?: string
  gross?: string
  status?: string[]
  stale?: true
  moving?: true
  /** Since the load was told. */
  after?: number
  /** Null: not known. */
  load?: string | null
  tolerance?: string | null
  change?: Record<string, unknown>
}

/** A point up to 500 kg in steps of 0.1 kg with a tolerance of 0.4 kg and 200 kg on it. */
function viewOf({
  reading,
  unit = 'kg',
  gross,
  status = [],
  stale,
  moving,
  after = 60_000,
  load = '200',
  tolerance = '0.4',
  change,
}: Known): PointView {
  const sample = {
    ...{ pointId: 'p1', at: after, reading, gross: gross ?? null, unit, status },
    ...({ signal: null, signalUnit: 'mV/V', signalOrigin: 'none' } as const),
  }
  return makeView({
    point: makePoint({ ...(tolerance === null ? {} : { tolerance: { value: tolerance, why: '' } }), ...change }),
    live: stale ? staleLive(sample) : { ...freshLive(sample), ...(moving ? { steady: false } : {}) },
    ...(load === null ? {} : { applied: { load, at: 0 } }),
  })
}
const offBy = (known: Known) => readingOff(viewOf(known))?.error

describe('a reading outside its tolerance at the load that is known to be on', () => {
  it('says by how much, at which load, and what would be allowed', () => {
    expect(readingOff(viewOf({ reading: '201.0' }))).toEqual({
      error: '+1.0 kg at 200 kg on it',
      brief: '+1.0 kg off at 200 kg',
      tolerance: 'tolerance 0.4 kg',
    })
    expect(offBy({ reading: '199.0' })).toBe('−1.0 kg at 200 kg on it')
    expect(offBy({ reading: '1.0', load: '0' })).toBe('+1.0 kg while empty')
  })

  it('uses the words of pressure for a pressure', () => {
    const change = { unit: 'bar', maximumLoad: '10', scaleInterval: '0.01', loadPath: { pressure: 'gauge' } }
    const gauge = { unit: 'bar', tolerance: '0.02', change }
    expect(offBy({ ...gauge, reading: '6.05', load: '6' })).toBe('+0.05 bar at 6 bar applied')
    expect(offBy({ ...gauge, reading: '0.05', load: '0' })).toBe('+0.05 bar while vented')
    expect(offBy({ ...gauge, reading: '0.05', load: '0', change: { ...change, loadPath: { pressure: 'absolute' } } })).toBe(
      '+0.05 bar at 0 bar applied',
    )
  })

  it('is said in few words where there is little room, too', () => {
    const briefBy = (known: Known) => readingOff(viewOf(known))?.brief
    const change = { unit: 'bar', maximumLoad: '10', scaleInterval: '0.01', loadPath: { pressure: 'gauge' } }
    const gauge = { unit: 'bar', tolerance: '0.02', change }
    expect(briefBy({ reading: '199.0' })).toBe('−1.0 kg off at 200 kg')
    expect(briefBy({ reading: '1.0', load: '0' })).toBe('+1.0 kg while empty')
    expect(briefBy({ ...gauge, reading: '6.05', load: '6' })).toBe('+0.05 bar off at 6 bar')
    expect(briefBy({ ...gauge, reading: '0.05', load: '0' })).toBe('+0.05 bar while vented')
  })

  it('is in tone and phrase at the reading, is marked there, and is counted with what needs attention', () => {
    const view = viewOf({ reading: '201.0' })
    const cell = chainCells.reading(view)

    expect(cell).toMatchObject({
      tone: 'attention',
      phrase: '+1.0 kg off at 200 kg',
      detail: 'steady · +1.0 kg at 200 kg on it',
    })
    expect(readingMark(view)).toContain('title="the reading is outside its tolerance: +1.0 kg at 200 kg on it, tolerance 0.4 kg"')
    expect(needsAttention(view)).toEqual([{ phrase: '+1.0 kg off at 200 kg', tone: 'attention' }])
    expect(rowData(view).attention).toBe(1)
  })

  it('comes before what is amiss elsewhere in the chain', () => {
    const view = viewOf({ reading: '201.0', change: { sensors: { certificates: [], trimmed: false } } })
    expect(needsAttention(view).map(({ phrase }) => phrase)).toEqual(['+1.0 kg off at 200 kg', 'no certificate'])
  })

  it('begins beyond the tolerance, on either side', () => {
    expect(['200.4', '199.6', '200.5', '199.5'].map((reading) => offBy({ reading }))).toEqual([
      undefined,
      undefined,
      '+0.5 kg at 200 kg on it',
      '−0.5 kg at 200 kg on it',
    ])
    expect(needsAttention(viewOf({ reading: '200.4' }))).toEqual([])
  })

  // As doubles 8.1 − 8 is less than 0.1, and 200.3 − 200 is more than 0.3.
  it('compares exactly, not what doubles or the digits of the reading make of it', () => {
    expect(offBy({ reading: '200.3', tolerance: '0.3' })).toBeUndefined()
    expect(offBy({ reading: '200.44' })).toBe('+0.44 kg at 200 kg on it')
    expect(offBy({ reading: '200.4', load: '199.99' })).toBe('+0.41 kg at 199.99 kg on it')
  })

  it('is compared gross, in the unit of the point', () => {
    expect(offBy({ reading: '3.0', gross: '201.0', status: ['net'] })).toBe('+1.0 kg at 200 kg on it')
    expect(offBy({ reading: '3.0', status: ['net'] })).toBeUndefined()
    expect(offBy({ reading: '0.2010', unit: 't' })).toBe('+1.0 kg at 200 kg on it')
    expect(offBy({ reading: '201.0', unit: 'furlong' })).toBeUndefined()
  })

  // by hand, as in a check: steps of 1 kg prove an error of 0.4 kg only beyond 0.4 + 0.5 kg
  it('asks for half an interval more where the interval is coarser than the tolerance', () => {
    const coarse = { change: { scaleInterval: '1' } }
    expect(offBy({ reading: '200.9', ...coarse })).toBeUndefined()
    expect(offBy({ reading: '201', ...coarse })).toBe('+1.0 kg at 200 kg on it')
  })

  it('is claimed only of what has come since the load was told, and settled', () => {
    // Steady by its last two seconds, some of which are from before the load.
    expect(offBy({ reading: '201.0', after: 1_900 })).toBeUndefined()
    expect(offBy({ reading: '201.0', after: 2_000 })).toBeDefined()
    expect(offBy({ reading: '201.0', after: 9_900, moving: true })).toBeUndefined()
  })

  it('is claimed in the end of a reading that never is steady', () => {
    expect(offBy({ reading: '201.0', after: 10_000, moving: true })).toBe('+1.0 kg at 200 kg on it')
  })

  it('is not claimed where the load is not known, no tolerance is stated, or the reading is old or in trouble itself', () => {
    expect(offBy({ reading: '201.0', load: null })).toBeUndefined()
    expect(offBy({ reading: '201.0', tolerance: null })).toBeUndefined()
    expect(offBy({ reading: '201.0', stale: true })).toBeUndefined()
    for (const status of ['over-range', 'fault', 'hold', 'shunt-on', 'busy']) {
      expect(offBy({ reading: '201.0', status: [status] })).toBeUndefined()
    }
  })
})
