import { describe, expect, it } from 'vitest'
import { chainCells, needsAttention } from '../../../renderer/chain/chain-cells.ts'
import { makeView } from '../../builders/point-view.ts'
import { kilograms, makeCertificate, makePoint, mvPerV } from '../../builders/weighing-point.ts'

const viewOf = (certificates: Parameters<typeof makePoint>[1], change = {}) => makeView({ point: makePoint(change, certificates) })
const phrases = (view: ReturnType<typeof viewOf>) => needsAttention(view).map(({ phrase }) => phrase)

describe('the sensors of a point in the chain', () => {
  it.each([
    [{ capacity: undefined, ratedOutput: undefined }, 'capacity not stated'],
    [{ ratedOutput: undefined }, 'rated output not stated'],
    [{ ratedOutput: mvPerV('200.5') }, 'rated output 200.50 mV/V'],
    [{ ratedOutput: mvPerV('-2') }, 'rated output -2 mV/V'],
    [{ ratedOutput: { value: '20', unit: 'mV' as const } }, 'certified excitation not stated'],
    [{ capacity: { value: '5', unit: 'bar' as const } }, 'capacity in bar'],
  ])('need attention while %j lets no scaling be computed', (change, phrase) => {
    const view = viewOf([makeCertificate(change)])
    expect(phrases(view)).toEqual([phrase])
    expect(chainCells.sensors(view)).toMatchObject({ tone: 'attention', detail: phrase })
  })

  it('leave to Load what is put right there', () => {
    const newtons = makeCertificate({ capacity: { value: '5', unit: 'kN' as const } })
    for (const [view, phrase] of [
      [viewOf([newtons]), 'gravity here not stated'],
      [viewOf([newtons], { loadPath: { gravityHere: { value: '98.1', unit: 'm/s2' } } }), 'gravity 98.1 m/s²'],
    ] as const) {
      expect(phrases(view)).toEqual([phrase])
      expect(chainCells.load(view)).toMatchObject({ tone: 'attention', detail: phrase })
      expect(chainCells.sensors(view)).toMatchObject({ tone: 'plain' })
    }
  })

  // by hand: 600 kg on one sensor of 500 kg
  it('need attention where the maximum load is beyond their capacity', () => {
    const view = viewOf([makeCertificate()], { maximumLoad: '600' })
    expect(phrases(view)).toEqual(['Max is 120 % of capacity'])
    expect(chainCells.sensors(view)).toMatchObject({ tone: 'attention', detail: 'Max is 120 % of capacity' })
    expect(phrases(viewOf([makeCertificate(), makeCertificate()], { maximumLoad: '1000' }))).toEqual([])
  })

  it('are told without a capacity or a certificate that nobody typed', () => {
    const unknown = makeCertificate({ capacity: undefined })
    expect(chainCells.sensors(viewOf([unknown, unknown, unknown])).most).toBe('3 sensors')
    expect(chainCells.sensors(viewOf([unknown])).most).toBe('one sensor')
  })

  it('are no matter of attention where the point is scaled by loads measured on it', () => {
    const loads = [
      { load: kilograms('0'), signal: mvPerV('0.01') },
      { load: kilograms('500'), signal: mvPerV('2.01') },
    ]
    const byLoads = { scalingFrom: 'measured-loads', measured: { loads } }
    expect(phrases(viewOf([makeCertificate({ capacity: undefined })], byLoads))).toEqual([])
    expect(phrases(viewOf([], byLoads))).toEqual([])
    expect(phrases(viewOf([makeCertificate()], { ...byLoads, measured: { loads: loads.slice(0, 1) } }))).toEqual([
      'scaling source not complete',
    ])
  })
})
