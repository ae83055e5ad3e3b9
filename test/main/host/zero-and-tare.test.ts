import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Job } from '../../../app/job/schema.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'

let practice: PracticeHost
const zero = (pointId: string, confirmed?: { amount?: string; vented?: true }) =>
  practice.host.call('indicator.command', { pointId, command: 'zero', ...(confirmed ? { confirmed } : {}) })
const preview = async (pointId: string) => value(await practice.host.call('indicator.preview-command', { pointId, command: 'zero' }))
const writes = (indicatorId: string) => practice.bench.requests(indicatorId).log.filter((r) => r.kind === 'write').length
const reading = (pointId: string) => {
  const view = practice.host.topics.get('live', pointId)
  return view?.state === 'fresh' ? { steady: view.steady, kg: Number(view.sample.reading) } : { steady: false, kg: Number.NaN }
}

/** Settles when the point stands steady on a reading like this. */
function stands(pointId: string, like: (reading: number) => boolean): Promise<void> {
  return new Promise((resolve) => {
    const unsubscribe = practice.host.topics.subscribe((m) => {
      if (m.kind !== 'topic' || m.topic !== 'live' || m.key !== pointId) return
      const now = reading(pointId)
      if (!now.steady || !like(now.kg)) return
      unsubscribe()
      resolve()
    })
  })
}

const start = async (change: (job: Job) => Job = (job) => job) => {
  practice = await startPracticeHost({ job: change(practiceJob()) })
}
afterEach(() => practice.close())

describe('zeroing a hopper', () => {
  beforeEach(() => start())

  it('needs the amount confirmed above the limit, and the amount must be what is there', async () => {
    value(await practice.host.call('practice.load', { pointId: 'wt-101', load: '500' }))
    await stands('wt-101', (kg) => kg > 400)
    const before = writes('ind-1')
    const { amount, confirm } = await preview('wt-101')
    expect(confirm).toEqual(['above-limit'])
    expect(await zero('wt-101')).toMatchObject({ ok: false, failure: { kind: 'confirm-first', takenOff: { confirm: ['above-limit'] } } })
    expect(await zero('wt-101', { amount: '0.4' })).toMatchObject({ ok: false, failure: { kind: 'confirm-first' } })
    expect(writes('ind-1')).toBe(before)

    value(await zero('wt-101', { amount: amount ?? '' }))
    expect(writes('ind-1')).toBe(before + 1)
    await stands('wt-101', (kg) => Math.abs(kg) < 1)
  }, 20_000)

  it('is done at once below the limit', async () => {
    await stands('wt-101', (kg) => Math.abs(kg) < 40)
    expect((await preview('wt-101')).confirm).toEqual([])
    value(await zero('wt-101'))
    await stands('wt-101', (kg) => Math.abs(kg) < 0.5)
  }, 20_000)
})

describe('zeroing a pressure', () => {
  const press = (pressure: 'gauge' | 'absolute') =>
    start((job) => ({ ...job, points: job.points.map((p) => (p.id === 'pt-301' ? { ...p, loadPath: { ...p.loadPath, pressure } } : p)) }))

  it('waits for "vented" with gauge', async () => {
    await press('gauge')
    const before = writes('ind-4')
    const refused = await zero('pt-301')
    expect(refused).toMatchObject({ ok: false, failure: { kind: 'confirm-first', why: expect.stringContaining('vented') } })
    expect(writes('ind-4')).toBe(before)
    value(await zero('pt-301', { vented: true }))
    expect(writes('ind-4')).toBeGreaterThan(before)
  })

  it('is never done with absolute, whatever is confirmed', async () => {
    await press('absolute')
    const before = writes('ind-4')
    const refused = await zero('pt-301', { amount: '0', vented: true })
    expect(refused).toMatchObject({ ok: false, failure: { kind: 'refused-request', why: expect.stringContaining('never zeroed') } })
    expect(writes('ind-4')).toBe(before)
  })
})

it('a sealed indicator is not commanded', async () => {
  await start((job) => ({ ...job, indicators: job.indicators.map((i) => ({ ...i, sealed: { seals: 'S-7' } })) }))
  const before = writes('ind-1')
  expect(await zero('wt-101')).toMatchObject({ ok: false, failure: { why: expect.stringContaining('sealed (S-7)') } })
  expect(writes('ind-1')).toBe(before)
})
