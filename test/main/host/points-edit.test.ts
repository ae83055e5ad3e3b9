import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'

let practice: PracticeHost
beforeAll(async () => {
  practice = await startPracticeHost({ start: false })
})
afterAll(() => practice.close())

const job = () => practice.host.topics.get('job')!
const interval = (pointId: string) => job().points.find((p) => p.id === pointId)?.scaleInterval
const edit = (edits: { pointId: string; change: { scaleInterval?: string; tag?: string } }[], revision = job().revision) =>
  practice.host.call('points.edit', { revision, edits })

describe('one edit of several points', () => {
  it('changes all of them in one revision', async () => {
    const before = job().revision
    value(
      await edit([
        { pointId: 'wt-101', change: { scaleInterval: '0.5' } },
        { pointId: 'wt-102', change: { scaleInterval: '0.5' } },
      ]),
    )
    expect([interval('wt-101'), interval('wt-102'), job().revision]).toEqual(['0.5', '0.5', before + 1])
  })

  it('changes none where one cannot be so, and names that one', async () => {
    const held = job()
    const refused = await edit([
      { pointId: 'wt-101', change: { scaleInterval: '1' } },
      { pointId: 'pt-301', change: { scaleInterval: '300' } },
    ])
    expect(refused).toMatchObject({ ok: false, failure: { where: 'scaleInterval', why: expect.stringMatching(/^PT-301: .*250 bar/) } })
    expect(job()).toBe(held)
  })

  it('two points may exchange their tags, since the whole edit is judged and not half of it', async () => {
    value(
      await edit([
        { pointId: 'wt-201', change: { tag: 'WT-202' } },
        { pointId: 'wt-202', change: { tag: 'WT-201' } },
      ]),
    )
    expect(job().points.find((p) => p.id === 'wt-201')?.tag).toBe('WT-202')
  })

  it('refuses an old revision, an unknown point and a point named twice', async () => {
    const one = { pointId: 'wt-101', change: { scaleInterval: '2' } }
    expect(await edit([one], 0)).toMatchObject({ ok: false, failure: { kind: 'stale', revision: job().revision } })
    expect(await edit([{ ...one, pointId: 'wt-999' }])).toMatchObject({ ok: false, failure: { where: 'pointId' } })
    expect(await edit([one, one])).toMatchObject({ ok: false, failure: { where: 'edits' } })
    expect(interval('wt-101')).toBe('0.5')
  })
})

describe('the verification scale interval e', () => {
  const put = (verificationInterval: string | null) =>
    practice.host.call('point.edit', { pointId: 'wt-102', revision: job().revision, change: { verificationInterval } })
  const held = () => job().points.find((p) => p.id === 'wt-102')

  it('is stated, and no longer stated, beside all else of the point', async () => {
    const before = held()
    const d = Number(before?.scaleInterval)
    value(await put(String(d * 5)))
    expect(held()).toEqual({ ...before, verificationInterval: String(d * 5) })
    value(await put(null))
    expect(held()).toEqual(before)
  })

  // OIML R 76-1:2006, 3.4.2: e is at most 10 d; never finer than d
  it.each(['0.01', '50'])('is refused outside of d to 10 d: %s kg', async (e) => {
    expect(await put(e)).toMatchObject({
      ok: false,
      failure: { where: 'verificationInterval', why: expect.stringContaining('at most ten times') },
    })
  })
})
