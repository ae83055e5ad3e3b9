import { describe, expect, it } from 'vitest'
import type { LiveView } from '../../../app/contract/views.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { captureReady } from '../../../renderer/places/capture-ready.ts'
import type { PointView } from '../../../renderer/state/point-view.ts'

const job = practiceJob()
const point = job.points[0]
if (!point) throw new Error('the practice job has a point')

const viewOf = (live: LiveView): PointView => ({
  job,
  point,
  indicator: undefined,
  profile: undefined,
  state: undefined,
  live,
  visit: undefined,
  lastCheck: undefined,
  runningCheck: undefined,
})
const sample = (reading: string | null, status: string[] = []) => ({
  pointId: 'wt-101',
  at: 0,
  reading,
  gross: reading,
  unit: 'kg',
  signal: '0.5',
  signalUnit: 'mV/V' as const,
  signalOrigin: 'measured' as const,
  status,
})
const fresh = (reading: string | null, steady = true, status: string[] = []): LiveView => ({
  state: 'fresh',
  sample: sample(reading, status),
  steady,
  noiseSignal: null,
})
const zeroTaken = { load: '0', reading: '0.2', origin: 'live' as const, at: '2026-11-25T12:00:00Z', samples: [] }

describe('a capture is armed', () => {
  it('once the reading is steady and the step has arrived', () => {
    expect(captureReady(viewOf(fresh('500.2')), '500', zeroTaken).armed).toBe(true)
  })

  // 2 % of a step of 500 kg are 10 kg; as found a scaling may be off by more, and a weight may be missing.
  it.each([
    ['490.0', '500', zeroTaken, true],
    ['510.2', '500', zeroTaken, false],
    ['489.8', '500', zeroTaken, false],
    ['10.0', '0', { ...zeroTaken, load: '500', reading: '500.4' }, true],
    ['10.2', '0', { ...zeroTaken, load: '500', reading: '500.4' }, false],
    // no step yet: 2 % of the maximum load of 1000 kg
    ['-20.0', '0', undefined, true],
    ['20.2', '0', undefined, false],
  ])('and %s kg at %s kg may be taken with nobody looking or not', (reading, load, before, near) => {
    const ready = captureReady(viewOf(fresh(reading)), load, before)
    expect(ready).toMatchObject({ armed: true, near })
    expect(ready.says).toMatch(near ? /^Steady: it can be taken/ : /^Steady, but [+\u2212]\d+\.\d kg off/)
  })

  it('not while steady before the weights go on, with the numbers', () => {
    const ready = captureReady(viewOf(fresh('0.2')), '500', zeroTaken)

    expect(ready.armed).toBe(false)
    expect(ready.says).toContain('0.0 of 500 kg')
  })

  it('not while steady before the weights come off', () => {
    const loaded = { ...zeroTaken, load: '500', reading: '500.4' }

    expect(captureReady(viewOf(fresh('500.4')), '0', loaded).armed).toBe(false)
    expect(captureReady(viewOf(fresh('0.2')), '0', loaded).armed).toBe(true)
  })

  it.each([
    ['moving', fresh('500.2', false)],
    ['over range', fresh('500.2', true, ['over-range'])],
    ['no number', fresh(null)],
    ['never read', { state: 'never-read' } as const],
    [
      'stale',
      { state: 'stale', sample: sample('500.2'), ageMs: 900, missed: 1, because: { kind: 'no-reply', waitedMs: 300, tries: 3 } } as const,
    ],
  ])('not while %s', (_name, live) => {
    expect(captureReady(viewOf(live), '500', zeroTaken).armed).toBe(false)
  })
})
