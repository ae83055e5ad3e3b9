import { describe, expect, it } from 'vitest'
import { chainCells, needsAttention } from '../../../renderer/chain/chain-cells.ts'
import { overloadNow } from '../../../renderer/chain/overload.ts'
import { freshLive, makeView, staleLive } from '../../builders/point-view.ts'
import { makeCertificate, makePoint } from '../../builders/weighing-point.ts'

const sample = (gross: string) => ({
  pointId: 'p1',
  at: 0,
  reading: gross,
  gross,
  unit: 'kg',
  signal: null,
  signalUnit: 'mV/V' as const,
  signalOrigin: 'none' as const,
  status: [],
})
/** Up to 500 kg on one sensor of 500 kg that bears 150 % of it. */
const point = makePoint({}, [makeCertificate({ safeOverloadPercent: '150' })])
const told = (load: string) => ({ applied: { load, at: 0 } })

describe('more on a point than its sensors stand', () => {
  it('is told of a load that somebody said is on', () => {
    const view = makeView({ point, ...told('5000') })
    expect(overloadNow(view)?.why).toMatch(/^Overload: 5000\.0 kg said to be on, more than the safe load of 750\.0 kg at this point\. /)
    expect(chainCells.load(view)).toMatchObject({ tone: 'lost', detail: 'overload, 5000.0 kg', phrase: 'overload, 5000.0 kg' })
    expect(needsAttention(view)[0]).toEqual({ phrase: 'overload, 5000.0 kg', tone: 'lost' })
  })

  it('is told of a load that is read, before one that is only said', () => {
    expect(overloadNow(makeView({ point, live: freshLive(sample('760.0')), ...told('5000') }))?.why).toContain('760.0 kg read')
    expect(overloadNow(makeView({ point, live: freshLive(sample('700.0')), ...told('5000') }))?.why).toContain('5000.0 kg said')
  })

  it('is not told of what is safe, nor of a reading that is stale', () => {
    expect(overloadNow(makeView({ point, live: freshLive(sample('750.0')), ...told('750') }))).toBeUndefined()
    expect(overloadNow(makeView({ point, live: staleLive(sample('900.0')) }))).toBeUndefined()
    expect(chainCells.load(makeView({ point, ...told('750') })).tone).toBe('plain')
  })

  it('goes by the capacity, and says so, where no safe overload is stated', () => {
    const view = makeView({ point: makePoint(), ...told('501') })
    expect(overloadNow(view)).toMatchObject({
      tone: 'attention',
      why: expect.stringMatching(/^501\.0 kg said to be on, beyond the sensors’ capacity of 500\.0 kg .* safe overload is not stated/),
    })
    expect(chainCells.load(view)).toMatchObject({ tone: 'attention', phrase: 'beyond capacity, 501.0 kg' })
  })

  it('is told of a pressure in its own words', () => {
    const transducer = (safeOverloadPercent?: string) =>
      makePoint({ unit: 'bar', loadPath: { pressure: 'gauge' } }, [
        makeCertificate({ capacity: { value: '250', unit: 'bar' }, ...(safeOverloadPercent ? { safeOverloadPercent } : {}) }),
      ])
    const now = (percent?: string) => overloadNow(makeView({ point: transducer(percent), ...told('400') }))
    expect(now('150')).toMatchObject({
      said: 'overpressure, 400.0 bar',
      why: expect.stringMatching(
        /^Overpressure: 400\.0 bar .* safe pressure of 375\.0 bar at this point\. Release the pressure; then look/,
      ),
    })
    expect(now()?.why).toMatch(/an overpressure is not known: safe overpressure is not stated\.$/)
  })
})
