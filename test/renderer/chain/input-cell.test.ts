import { describe, expect, it } from 'vitest'
import type { LiveSample } from '../../../app/contract/views.ts'
import { chainCells, needsAttention } from '../../../renderer/chain/chain-cells.ts'
import { expectedLines, expectedNow, heldMakesNow, signalNow } from '../../../renderer/chain/expected.ts'
import { readingDoubts } from '../../../renderer/chain/reading-doubts.ts'
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
    state: holding({
      'input.range@1': held,
      'scale.lower.signal@1': '0',
      'scale.lower.reading@1': '0',
      'scale.upper.signal@1': '2',
      'scale.upper.reading@1': '500',
      'reading.unit@1': 'kg',
    }),
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

  it('at its limit makes the reading one in doubt, and is compared with nothing', () => {
    const [clipped, free] = ['1', '0.9'].map((signal) => ({ ...viewOf('1 mV/V', {}, { signal }), applied: { load: '225', at: 0 } }))
    const measured = (view: typeof clipped) => {
      const chain = view && expectedNow(view)
      return view && chain?.ok ? [signalNow(view, chain.value)?.value, heldMakesNow(view, chain.value) !== undefined] : undefined
    }
    expect(measured(clipped)).toEqual([undefined, false])
    expect(measured(free)).toEqual([0.9, true])
    expect(clipped && expectedLines(clipped).input).toBe('expect 0.9000 mV/V')
    expect(clipped && readingDoubts(clipped)).toContainEqual({
      said: 'input at its limit',
      why: 'input at its limit: a lead open, or the range too small',
    })
    expect(free && readingDoubts(free)).toEqual([])
  })
})
