import { describe, expect, it } from 'vitest'
import { expectedLines, expectedNow, heldMakesNow } from '../../../renderer/chain/expected.ts'
import type { PointView } from '../../../renderer/state/point-view.ts'
import { freshLive, holding, makeView, staleLive } from '../../builders/point-view.ts'
import { makeCertificate, makePoint, makeProfile, mvPerV } from '../../builders/weighing-point.ts'

type Live = { signal: string | null; unit?: 'mV/V' | 'mV'; origin?: 'measured' | 'derived'; stale?: true }

/** 500 kg on one sensor of 2 mV/V with 200 kg on it; held is a line of 1.6 mV/V for 500 kg. */
function viewOf({ signal, unit = 'mV/V', origin = 'measured', stale }: Live): PointView {
  const values = {
    'scale.lower.signal@1': '0',
    'scale.lower.reading@1': '0',
    'scale.upper.signal@1': '1.6',
    'scale.upper.reading@1': '500',
    'reading.unit@1': 'kg',
    'excitation.voltage@1': '10 V',
  }
  const sample = {
    ...{ pointId: 'p1', at: 0, reading: '0.0', gross: '0.0', unit: 'kg', status: [] },
    ...{ signal, signalUnit: unit, signalOrigin: signal === null ? ('none' as const) : origin },
  }
  return makeView({
    point: makePoint({}, [makeCertificate({ ratedOutput: mvPerV('2') })]),
    profile: makeProfile(),
    state: holding(values),
    live: stale ? staleLive(sample) : freshLive(sample),
    applied: { load: '200', at: 0 },
  })
}
function makes(live: Live) {
  const view = viewOf(live)
  const chain = expectedNow(view)
  return chain?.ok ? heldMakesNow(view, chain.value) : 'no chain'
}

describe('what the held scaling makes', () => {
  // by hand: 0.72 mV/V x 500 kg / 1.6 mV/V = 225 kg; of the expected 0.8 mV/V it would be 250 kg
  it('is computed from the live signal, not from the one that is expected', () => {
    expect(makes({ signal: '0.72' })).toBe(225)
    expect(expectedLines(viewOf({ signal: '0.72' })).scaling).toBe('makes 225.0 · +25.0')
  })

  // by hand: 7.2 mV at 10 V are 0.72 mV/V
  it('is computed from a live signal in mV by the excitation', () => {
    expect(makes({ signal: '7.2', unit: 'mV' })).toBe(225)
  })

  it('is only what would be made of the expected signal where none is measured now', () => {
    for (const live of [{ signal: null }, { signal: '0.72', origin: 'derived' }, { signal: '0.72', stale: true }] as const) {
      expect(makes(live)).toBeUndefined()
      expect(expectedLines(viewOf(live)).scaling).toBe('would make 250.0 · +50.0')
    }
  })
})
