import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'

const pointId = 'wt-101'
let practice: PracticeHost

beforeEach(async () => {
  practice = await startPracticeHost()
})
afterEach(() => practice.close())

const start = async (when: 'as-found' | 'as-left' = 'as-found') => value(await practice.host.call('check.start', { pointId, when })).id

/** Settles when the live view of the point fulfils the condition. */
function live(condition: (view: { steady: boolean; reading: number }) => boolean): Promise<void> {
  return new Promise((resolve) => {
    const unsubscribe = practice.host.topics.subscribe((m) => {
      if (m.kind !== 'topic' || m.topic !== 'live') return
      const view = practice.host.topics.get('live', pointId)
      if (view?.state !== 'fresh' || !condition({ steady: view.steady, reading: Number(view.sample.reading) })) return
      unsubscribe()
      resolve()
    })
  })
}

describe('quick check', () => {
  it('captures a steady reading with the samples it stands on, and refuses a moving one with the numbers', async () => {
    const checkId = await start()
    await live((v) => v.steady)
    const zero = value(await practice.host.call('check.capture', { checkId, load: '0' }))
    expect(zero.steps[0]).toMatchObject({ load: '0', origin: 'live' })
    expect(zero.steps[0]?.samples.length).toBeGreaterThanOrEqual(5)
    expect(zero.steps[0]?.samples).toContain(zero.steps[0]?.reading)

    value(await practice.host.call('practice.load', { pointId, load: '500' }))
    await live((v) => v.reading > 100)
    expect(await practice.host.call('check.capture', { checkId, load: '500' })).toMatchObject({
      ok: false,
      failure: { why: expect.stringMatching(/Still moving: spread .* at most 0.2 kg/) },
    })
  }, 20_000)

  it('takes the last reading back, keeps it beside the others, and tells it on the sheet', async () => {
    const { call } = practice.host
    const checkId = await start()
    const type = async (load: string, typed: string) => value(await call('check.capture', { checkId, load, typed }))
    const takeBack = () => call('check.take-back', { checkId })
    expect(await takeBack()).toMatchObject({ ok: false, failure: { why: expect.stringContaining('Nothing was taken yet') } })
    await type('0', '0.0')
    await type('500', '480.2')
    expect(value(await takeBack())).toMatchObject({ steps: [{ load: '0' }], takenBack: [{ load: '500', reading: '480.2' }] })
    await type('500', '500.0')
    await type('0', '0.0')
    value(await call('check.finish', { checkId }))
    expect(await takeBack()).toMatchObject({ ok: false, failure: { why: expect.stringContaining('finished') } })
    const kept = practice.host.topics.get('job')?.visits.at(-1)?.checks.at(-1)
    expect(kept?.steps.map((s) => s.reading)).toEqual(['0.0', '500.0', '0.0'])
    const { html } = value(await call('sheet.read', { pointId }))
    expect(html).toContain('Taken back and done again: 480.2 at 500 kg.')
    expect(html).toContain('within tolerance')
  })

  it('takes typed readings, says so, and puts error and verdict on the sheet', async () => {
    const checkId = await start()
    for (const [load, typed] of [
      ['0', '0.0'],
      ['500', '500.8'],
      ['0', '0.0'],
    ] as const)
      value(await practice.host.call('check.capture', { checkId, load, typed }))
    value(await practice.host.call('check.finish', { checkId }))
    const { html } = value(await practice.host.call('sheet.read', { pointId }))
    expect(html).toContain('OUTSIDE tolerance')
    expect(html).toContain('+0.8')
    expect(html).toContain('typed')
    expect(html).toContain('A. Tester')
    expect(html).toContain('Practice: simulated indicator')
  })

  it('marks a check as superseded once the scaling has changed', async () => {
    const checkId = await start('as-left')
    for (const load of ['0', '500', '0']) value(await practice.host.call('check.capture', { checkId, load, typed: load }))
    value(await practice.host.call('check.finish', { checkId }))
    practice.bench.panel('ind-1', 'scale.upper.signal@1', [0x3fc0, 0])
    value(await practice.host.call('settings.read', { indicatorId: 'ind-1' }))
    expect(value(await practice.host.call('sheet.read', { pointId })).html).toContain('superseded')
  })

  it('writes names as text, never as markup', async () => {
    const { revision } = practice.host.topics.get('job') ?? { revision: 0 }
    value(await practice.host.call('point.edit', { pointId, revision, change: { name: '<img src=x onerror=alert(1)>' } }))
    const { html } = value(await practice.host.call('sheet.read', { pointId }))
    expect(html).toContain('&lt;img src=x')
    expect(html).not.toContain('<img')
  })

  it('takes the steady signal under a known load for a scaling of its own, and none that moves', async () => {
    const { call, topics } = practice.host
    const measure = (load: string) => call('point.measure-load', { pointId, revision: topics.get('job')?.revision ?? 0, load })
    await live((v) => v.steady)
    value(await measure('0'))
    value(await call('practice.load', { pointId, load: '500' }))
    await live((v) => v.reading > 100)
    expect(await measure('500')).toMatchObject({ ok: false, failure: { why: expect.stringMatching(/Still moving: spread/) } })
    await live((v) => v.steady && v.reading > 490)
    value(await measure('500'))
    const taken = topics.get('job')?.points.find((p) => p.id === pointId)?.measured.loads ?? []
    expect(taken.map((t) => t.load)).toEqual([
      { value: '0', unit: 'kg' },
      { value: '500', unit: 'kg' },
    ])
    expect(taken.every((t) => t.at !== undefined && t.excitation === undefined && t.signal.unit === 'mV/V')).toBe(true)
    // Three cells of mean 2.0021 mV/V and 500 kg each: 500 kg add a third of that.
    expect(Number(taken[1]?.signal.value) - Number(taken[0]?.signal.value)).toBeCloseTo(2.0021 / 3, 2)
  }, 30_000)

  it('keeps what it was judged by, and leaves nothing behind where nothing was taken', async () => {
    const { call, topics } = practice.host
    const checks = () => topics.get('job')?.visits.flatMap((v) => v.checks) ?? []
    value(await call('check.finish', { checkId: await start() }))
    expect(checks()).toEqual([])
    const checkId = await start()
    value(await call('check.capture', { checkId, load: '0', typed: '0.0' }))
    expect(checks()[0]?.judgedBy).toBeUndefined()
    value(await call('check.finish', { checkId }))
    expect(checks()[0]?.judgedBy).toMatchObject({ maximumLoad: '1000', scaleInterval: '0.2', tolerance: { value: '0.5' } })
  })

  it('is as found only while the indicator holds what was found in this visit', async () => {
    const { call, topics } = practice.host
    value(await call('indicator.identify', { indicatorId: 'ind-1' }))
    value(await call('settings.read', { indicatorId: 'ind-1' }))
    const revision = topics.get('job')?.revision ?? 0
    value(await call('point.intend', { pointId, revision, values: { 'filter.time@1': '0.50' } }))
    const { previewId } = value(await call('settings.preview', { indicatorId: 'ind-1' }))
    value(await call('settings.write', { previewId }))
    expect(await call('check.start', { pointId, when: 'as-found' })).toMatchObject({
      ok: false,
      failure: { where: 'when', why: expect.stringContaining('no longer those found at the start of this visit') },
    })
    value(await call('check.start', { pointId, when: 'as-left' }))
    // Another indicator is still as it was found.
    value(await call('check.start', { pointId: 'wt-201', when: 'as-found' }))
  }, 20_000)

  it('refuses a finished check and one without a visit', async () => {
    const checkId = await start()
    value(await practice.host.call('check.capture', { checkId, load: '0', typed: '0' }))
    value(await practice.host.call('check.finish', { checkId }))
    expect(await practice.host.call('check.capture', { checkId, load: '0', typed: '0' })).toMatchObject({
      ok: false,
      failure: { why: expect.stringContaining('finished') },
    })
  })
})

describe('what the host knows while it runs', () => {
  it('says stale with the reason when the cable is pulled, and fresh again when it is back', async () => {
    await live((v) => v.steady)
    practice.bench.pull('line-1')
    await new Promise<void>((resolve) => {
      practice.host.topics.subscribe(() => {
        if (practice.host.topics.get('live', pointId)?.state === 'stale') resolve()
      })
    })
    expect(practice.host.topics.get('live', pointId)).toMatchObject({ state: 'stale', because: { kind: 'no-reply' } })
    expect(
      await practice.host.call('point.measure-zero', { pointId, revision: practice.host.topics.get('job')?.revision ?? 0 }),
    ).toMatchObject({ ok: false })
    practice.bench.plug('line-1')
    await live(() => true)
  }, 30_000)

  it('halts all sending at once and resumes', async () => {
    await live(() => true)
    value(await practice.host.call('sending.stop', {}))
    expect(await practice.host.call('settings.read', { indicatorId: 'ind-1' })).toEqual({ ok: false, failure: { kind: 'stopped' } })
    const before = practice.bench.requests('ind-1').count
    await new Promise((done) => setTimeout(done, 300))
    expect(practice.bench.requests('ind-1').count - before).toBeLessThanOrEqual(1)
    value(await practice.host.call('sending.resume', {}))
    value(await practice.host.call('settings.read', { indicatorId: 'ind-1' }))
  })
})
