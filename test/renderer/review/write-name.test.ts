import { describe, expect, it } from 'vitest'
import { besidesWords, writtenTags } from '../../../app/contract/preview-words.ts'
import type { Difference } from '../../../app/contract/views.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { consequenceOf } from '../../../renderer/review/consequence.ts'
import { keysWritten, writeName } from '../../../renderer/review/write-name.ts'

const job = practiceJob()
const silos = job.points.find((p) => p.tag === 'WT-201')?.indicatorId ?? ''
const change = (key: string): Difference => ({ key, held: '1', intended: '2' })
const plain = { unlocks: false, saves: false, restarts: false }
const touches = [
  { pointId: 'a', tag: 'WT-201', written: false },
  { pointId: 'b', tag: 'WT-301', written: true },
]

describe('a write to one of several points on an indicator', () => {
  it('is named by the point that gets the values', () => {
    expect(writeName(job, silos, ['scale.upper.signal@2'])).toBe('WT-202')
    expect(writtenTags({ touches })).toBe('WT-301')
  })

  it('is named by all of them where it is of the whole indicator, or not known what of', () => {
    expect(writeName(job, silos, ['scale.upper.signal@2', 'bus.address'])).toBe('WT-201, WT-202')
    expect(writeName(job, silos)).toBe('WT-201, WT-202')
    expect(writeName({ ...job, points: [] }, silos)).toBe('Silo unit')
    expect(writtenTags({ touches: touches.map((t) => ({ ...t, written: false })) })).toBe('WT-201, WT-301')
  })

  it('knows what it was of once it has ended, well or not', () => {
    const before = { key: 'scale.upper.signal@2', wanted: '2', before: '1', now: 'unknown' as const }
    expect(keysWritten({ ok: true, receipt: { written: [change('filter.time@2')], alsoMoved: [], saved: true, unsaved: [] } })).toEqual([
      'filter.time@2',
    ])
    const because = { kind: 'no-reply', waitedMs: 300, tries: 2 } as const
    const failure = { kind: 'failed', because, during: 'writing', end: 'not-restored', parameters: [before] } as const
    expect(keysWritten({ ok: false, failure: { ...failure, parameters: [before] } })).toEqual(['scale.upper.signal@2'])
    expect(keysWritten({ unreached: 'gone' })).toEqual([])
  })

  it('says of the others what saving or restarting does to them, or that nothing does', () => {
    expect(besidesWords({ touches, procedure: { ...plain, saves: true } })).toBe('Saving is of the whole indicator and touches WT-201 too.')
    expect(besidesWords({ touches, procedure: { ...plain, saves: true, restarts: true } })).toMatch(/^Restarting .+ WT-201 too\.$/)
    expect(besidesWords({ touches, procedure: plain })).toBe('WT-201 on the same indicator is left alone.')
    expect(besidesWords({ touches: touches.slice(1), procedure: { ...plain, saves: true } })).toBe('')
  })

  it('points to below only where it stands below by how much the reading moves', () => {
    expect(consequenceOf(change('scale.upper.signal@3'), true)).toBe('moves the reading, see below')
    expect(consequenceOf(change('scale.upper.signal@3'), false)).toBe('moves the reading')
  })
})
