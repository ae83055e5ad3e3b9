import { describe, expect, it } from 'vitest'
import type { LiveView } from '../../../app/contract/views.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { needsAttention } from '../../../renderer/chain/chain-cells.ts'
import { readingState } from '../../../renderer/chain/reading-text.ts'
import { makeView } from '../../builders/point-view.ts'

const job = practiceJob()
const point = job.points[0]
if (!point) throw new Error('the practice job has a point')
const stateOf = (live: LiveView) => readingState(makeView({ job, point, live }))
const sample = {
  pointId: 'wt-101',
  at: 0,
  reading: '400.2',
  gross: '400.2',
  unit: 'kg',
  signal: null,
  signalUnit: 'mV/V',
  signalOrigin: 'none',
  status: [] as string[],
} as const
const because = { kind: 'no-reply', waitedMs: 300, tries: 3 } as const

describe('readingState', () => {
  it('calls a fresh reading steady or moving', () => {
    expect(stateOf({ state: 'fresh', sample: { ...sample, status: [] }, steady: true, noiseSignal: null }).word).toBe('steady')
    expect(stateOf({ state: 'fresh', sample: { ...sample, status: [] }, steady: false, noiseSignal: null }).word).toBe('moving')
  })

  it('calls neither what is no number', () => {
    expect(stateOf({ state: 'fresh', sample: { ...sample, reading: null, status: [] }, steady: false, noiseSignal: null }).word).toBe(
      'no number',
    )
  })

  it('gives a stale one its age and never calls it steady', () => {
    const state = stateOf({ state: 'stale', sample: { ...sample, status: [] }, ageMs: 4_200, missed: 4, because })

    expect(state).toMatchObject({ origin: 'stale', tone: 'lost', struck: true })
    expect(state.word).toMatch(/4\.2.s old/)
  })

  it('strikes the digits out once three polls are missed, however long that takes on this bus', () => {
    const struck = (ageMs: number, missed: number) =>
      stateOf({ state: 'stale', sample: { ...sample, status: [] }, ageMs, missed, because }).struck

    expect([struck(4_400, 2), struck(4_500, 3), struck(1_500, 3)]).toEqual([false, true, true])
  })

  it('of an indicator that was asked and never answered is lost, and needs attention for it', () => {
    expect(stateOf({ state: 'never-read' })).toMatchObject({ word: 'not read yet', tone: 'plain' })
    expect(stateOf({ state: 'never-read', because })).toMatchObject({ word: 'never read: no answer', tone: 'lost', reading: null })
    const silent = makeView({ job, point, live: { state: 'never-read', because } })
    expect(needsAttention(silent)[0]).toEqual({ phrase: 'no answer', tone: 'lost' })
  })

  it('puts trouble that the indicator reports before steadiness', () => {
    const state = stateOf({ state: 'fresh', sample: { ...sample, status: ['over-range'] }, steady: true, noiseSignal: null })

    expect(state).toMatchObject({ word: 'over range', tone: 'lost' })
  })

  it('says net where the indicator does', () => {
    expect(stateOf({ state: 'fresh', sample: { ...sample, status: ['net'] }, steady: true, noiseSignal: null }).kind).toBe('net')
  })
})
