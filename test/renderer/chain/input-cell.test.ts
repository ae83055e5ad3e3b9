import { describe, expect, it } from 'vitest'
import type { LiveSample } from '../../../app/contract/views.ts'
import { chainCells, needsAttention } from '../../../renderer/chain/chain-cells.tsx'
import { rowData } from '../../../renderer/table/row-data.ts'
import { freshLive, holding, makeView } from '../../builders/point-view.ts'
import { makeCertificate, makePoint, makeProfile, mvPerV } from '../../builders/weighing-point.ts'

const certificates = [makeCertificate({ ratedOutput: mvPerV('2') })]

/** 450 of 500 kg at 2 mV/V: 1.8 mV/V at maximum load. */
function viewOf(held: string, intended: Record<string, string> = {}, sample: Partial<LiveSample> = {}) {
  const live: LiveSample = {
    pointId: 'p1',
    at: 0,
    reading: null,
    gross: null,
    unit: 'kg',
    signal: '0.4',
    signalUnit: 'mV/V',
    signalOrigin: 'measured',
    status: [],
    ...sample,
  }
  return makeView({
    point: makePoint({ maximumLoad: '450', intended }, certificates),
    indicator: { id: 'i1', name: 'Unit', busId: 'b1', unit: 1, profileId: 'p' },
    profile: makeProfile(),
    state: holding({ 'input.range@1': held }),
    live: freshLive(live),
  })
}
const phrases = (view: ReturnType<typeof viewOf>) => needsAttention(view).map(({ phrase }) => phrase)

describe('an input that does not hold the maximum load', () => {
  it('needs attention in table and list, and says what is expected', () => {
    const view = viewOf('1 mV/V')
    expect(phrases(view)).toEqual(['range too small for Max'])
    expect(chainCells.input(view)).toMatchObject({ tone: 'attention', detail: '1.800 mV/V at Max, range 1 mV/V' })
    expect(rowData(view).attention).toBe(1)
  })

  it('needs it too where the indicator gives no signal', () => {
    expect(phrases(viewOf('1 mV/V', {}, { signal: null, signalOrigin: 'none' }))).toEqual(['range too small for Max'])
    expect(phrases(viewOf('1 mV/V', {}, { signalOrigin: 'derived' }))).toEqual(['range too small for Max'])
  })

  it('needs it where only the range intended is too small', () => {
    expect(phrases(viewOf('2 mV/V', { 'input.range@1': '1 mV/V' }))).toEqual(['intended range too small for Max'])
  })

  it('needs none with room enough', () => {
    expect(phrases(viewOf('2 mV/V', { 'input.range@1': '3.5 mV/V' }))).toEqual([])
  })

  it('is lost, and nothing else of it is said, once it is at its limit', () => {
    const view = viewOf('1 mV/V', {}, { signal: '1' })
    expect(phrases(view)).toContain('input at its limit')
    expect(phrases(view)).not.toContain('range too small for Max')
    expect(rowData(view).attention).toBe(2)
  })
})
