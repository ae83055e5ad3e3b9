import { describe, expect, it } from 'vitest'
import type { Trace } from '../../../../renderer/figures/trend/trace.ts'
import { decimalsFor, valuesIn, valuesText } from '../../../../renderer/figures/trend/value-at.ts'
import { Store } from '../../../../renderer/state/store.ts'

const trace: Trace = { pointId: 'a', label: 'WT-101', colour: 1, quantity: 'reading', unit: 'kg', leastSpan: 4 }

function storeOf(samples: readonly (readonly [at: number, reading: number])[]) {
  const store = new Store()
  store.take(samples.map(([at, reading]) => ({ pointId: 'a', unit: 'kg', at, reading, signal: 0 })))
  return store
}

describe('values under a pixel column', () => {
  const store = storeOf([
    [1_000, 200],
    [1_050, 412.4],
    [1_100, 200.2],
    [1_150, Number.NaN],
    [1_200, Number.NaN],
    [3_500, 100],
  ])

  it('are all that it was drawn from: a spike between two samples alike is told', () => {
    const values = valuesIn(store, trace, { from: 1_000, to: 1_100 })
    expect(values).toEqual({ least: 200, greatest: 412.4 })
    expect(valuesText(trace, values!, ',')).toBe('200,0 to 412,4 kg')
  })

  it('are the nearest sample where none lies in it, and one number where no digit tells them apart', () => {
    expect(valuesIn(store, trace, { from: 1_060, to: 1_070 })).toEqual({ least: 412.4, greatest: 412.4 })
    expect(valuesText(trace, { least: 200.01, greatest: 200.04 }, '.')).toBe('200.0 kg')
  })

  it('are none where nothing was measured, or nothing near', () => {
    expect(valuesIn(store, trace, { from: 1_140, to: 1_210 })).toBeUndefined()
    expect(valuesIn(store, trace, { from: 1_180, to: 1_190 })).toBeUndefined()
    expect(valuesIn(store, trace, { from: 2_300, to: 2_310 })).toBeUndefined()
  })

  it('are in the unit that is drawn', () => {
    expect(valuesIn(store, { ...trace, factor: 0.1 }, { from: 3_500, to: 3_500 })).toEqual({ least: 10, greatest: 10 })
  })
})

it.each([
  [0.2, 1],
  [1, 0],
  [5, 0],
  [0.05, 2],
  [0.001, 3],
])('of an interval of %s shows %s decimals', (interval, decimals) => {
  expect(decimalsFor({ ...trace, leastSpan: interval * 20 })).toBe(decimals)
})
