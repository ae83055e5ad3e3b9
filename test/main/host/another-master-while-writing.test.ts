import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { WriteStep } from '../../../app/contract/views.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'
import { topicSeen } from '../../builders/topic-seen.ts'

const [indicatorId, pointId, busId] = ['ind-1', 'wt-101', 'bus-1']
/** Two settings that are not neighbours, so that they travel in two requests. */
const wanted = { 'filter.time@1': '0.50', 'reading.interval@1': '0.5' }

let practice: PracticeHost
beforeAll(async () => {
  practice = await startPracticeHost()
  // Nothing else asks meanwhile, which could meet the slow answer in its place; closing the bus ends what was asked before.
  value(await practice.host.call('live.start', { pointIds: [] }))
  value(await practice.host.call('bus.close', { busId }))
  value(await practice.host.call('bus.open', { busId }))
})
afterAll(() => practice.close())

const view = () => practice.host.topics.get('indicator', indicatorId)
const units = () => [practice.bench.settings(indicatorId), practice.bench.saved(indicatorId)]
const otherMaster = async (everyMs: number | null) => value(await practice.host.call('practice.other-master', { busId, everyMs }))
/** IEEE 754-2019, 3.4: 0.5 as a single float is 3f00 0000. */
const words = { 'filter.time@1': [50], 'reading.interval@1': [0x3f00, 0] }

async function restoreAsFound() {
  const preview = await practice.host.call('settings.preview-restore', { indicatorId, to: 'as-found' })
  return preview.ok ? practice.host.call('settings.write', { previewId: preview.value.previewId }) : preview
}

const resolve = (how: 'restore' | 'complete') =>
  practice.host.call('journal.resolve', { indicatorId, journalId: view()?.openWrite?.journalId ?? '', how })
const heIsGone = async () => {
  await otherMaster(null)
  value(await practice.host.call('bus.open', { busId }))
}
const brokenOff = {
  ok: false,
  failure: { kind: 'failed', because: { kind: 'other-master' }, end: 'not-restored', parameters: [{ now: 'unknown' }, { now: 'unknown' }] },
}

/** What is intended is written, and from `step` on the other master asks. The unit thinks for so long that he is heard before the next step. */
async function writeUntil(step: WriteStep, done: number) {
  const revision = practice.host.topics.get('job')?.revision ?? 0
  value(await practice.host.call('point.intend', { pointId, revision, values: wanted }))
  const preview = value(await practice.host.call('settings.preview', { indicatorId }))
  const reached = topicSeen(practice.host, 'indicator', indicatorId, (v) => v.writing?.step === step && v.writing.done === done)
  const broken = reached.then(() => {
    practice.bench.inject(indicatorId, { kind: 'late', byMs: 200, times: 1 })
    return otherMaster(50)
  })
  const outcome = await practice.host.call('settings.write', { previewId: preview.previewId })
  await broken
  return outcome
}

describe('another master that breaks into a running write', () => {
  const steps = [
    ['unlocking', 0],
    ['writing', 1],
    ['writing', 2],
    ['reading-back', 2],
    ['saving', 2],
  ] as const

  it.each(steps)(
    'while %s, %i sent: sending halts, what the unit holds is called unknown, and all is put back once he is gone',
    async (step, sent) => {
      const before = units()
      expect(await writeUntil(step, sent)).toMatchObject(brokenOff)
      expect(practice.host.topics.get('bus', busId)).toMatchObject({ state: 'halted', why: expect.stringContaining('Another master') })
      expect(view()).toMatchObject({ writing: null, openWrite: { wanted: [{ intended: '0.50' }, { intended: '0.5' }] } })
      // Neither a way back nor a further write is tried over his requests.
      const heard = practice.bench.requests(indicatorId).count
      expect(await resolve('restore')).toMatchObject({ ok: false })
      expect(await practice.host.call('settings.preview', { indicatorId })).toMatchObject({ ok: false })
      expect(practice.bench.requests(indicatorId).count).toBe(heard)
      expect(view()?.openWrite).not.toBeNull()

      await heIsGone()
      value(await resolve('restore'))
      expect(units()).toEqual(before)
      expect(view()).toMatchObject({ writing: null, openWrite: null })
    },
  )

  it('can be completed instead of being put back', async () => {
    expect(await writeUntil('writing', 1)).toMatchObject(brokenOff)
    await heIsGone()
    value(await resolve('complete'))
    expect(units()).toMatchObject([words, words])
    expect(view()?.openWrite).toBeNull()
    expect(await restoreAsFound()).toMatchObject({ ok: true })
  })

  it('while the last answer comes, which tells that all is held and saved: written, and nothing is left open; only sending halts', async () => {
    expect(await writeUntil('reading-all', 2)).toMatchObject({ ok: true, value: { saved: true, alsoMoved: [] } })
    expect(units()).toMatchObject([words, words])
    expect(view()).toMatchObject({ writing: null, openWrite: null })
    expect(practice.host.topics.get('bus', busId)).toMatchObject({ state: 'halted', why: expect.stringContaining('Another master') })
    expect(await restoreAsFound()).toMatchObject({ ok: false })
    await heIsGone()
    expect(await restoreAsFound()).toMatchObject({ ok: true })
  })
})
