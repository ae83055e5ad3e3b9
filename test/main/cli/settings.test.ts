import { readFileSync } from 'node:fs'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import type { Difference } from '../../../app/contract/views.ts'
import type { Job, SettingsImage } from '../../../app/job/schema.ts'
import { fitting, type RealBench, spanwright, startCommand, startRealBench } from '../../builders/command-line.ts'

const intends = (job: Job): Job => ({ ...job, points: job.points.map((p) => ({ ...p, intended: { 'scale.upper.signal@1': '1.6' } })) })
const upper = 'scale.upper.signal@1'
/** 1.6 as the nearest single float, IEEE 754-2019, 3.4: 3fcc cccd. */
const wantedWords = [0x3fcc, 0xcccd]

let real: RealBench
const job = () => ['--job', real.jobPath]
const by = ['--by', 'A. Tester', '--yes']

/** Progress is told after a second: how far the write is by then hangs on the machine. */
const underWay = /unlocking|writing|reading back|saving|reading all/

describe('on an indicator that does not hold what the job intends', () => {
  beforeEach(async () => {
    real = await startRealBench(intends)
  })
  afterEach(() => real.close())

  it('identifies it, reads it and names the difference, and writes nothing', async () => {
    const before = real.bench.settings('ind-1')
    const identified = await spanwright('identify', ...job(), '--json')
    expect(identified.code).toBe(0)
    expect(fitting('identify', identified.out)).toMatchObject({ indicator: { id: 'ind-1', unit: 1 }, identity: { outcome: 'confirmed' } })

    const read = await spanwright('settings', 'read', ...job(), '--json')
    const { held } = fitting<{ held: SettingsImage }>('settings-read', read.out)
    expect(held.values[upper]?.words).toEqual(before[upper])

    const compared = await spanwright('settings', 'compare', ...job(), '--point', 'WT-101', '--json')
    expect(compared.code).toBe(3)
    const { differs } = fitting<{ differs: Difference[] }>('settings-compare', compared.out)
    expect(differs.map((d) => [d.key, d.intended])).toEqual([[upper, '1.6']])
    expect(real.bench.settings('ind-1')).toEqual(before)
    expect(real.bench.requests('ind-1').log.some((r) => r.kind === 'write')).toBe(false)
  })

  it('shows what a write would do, and writes only with a name and a yes', async () => {
    const dry = await spanwright('settings', 'write', ...job(), '--dry-run', '--json')
    expect(dry.code).toBe(0)
    expect(fitting('settings-write', dry.out)).toMatchObject({ wrote: false, preview: { writes: [{ key: upper, intended: '1.6' }] } })

    const nameless = await spanwright('settings', 'write', ...job(), '--yes')
    expect([nameless.code, nameless.out]).toEqual([2, ''])
    const unconfirmed = await spanwright('settings', 'write', ...job(), '--by', 'A. Tester')
    expect(unconfirmed.code).toBe(4)
    expect(unconfirmed.err).toContain('→ 1.6')
    // Our own wording: what to do first, for a change of scaling values.
    expect(unconfirmed.err).toContain(
      'Put the loop in manual, isolate outputs and trips, let nobody stay under a load or in reach of what moves.',
    )
    expect(unconfirmed.err).toContain('Local rules and licensed practice come first.')
    expect(real.bench.requests('ind-1').log.some((r) => r.kind === 'write')).toBe(false)
  })

  it('writes, compares equal, and restores what was before and as found', async () => {
    const before = real.bench.saved('ind-1')
    const written = await spanwright('settings', 'write', ...job(), ...by, '--json')
    expect(written.code).toBe(0)
    expect(fitting('settings-write', written.out)).toMatchObject({ wrote: true, receipt: { written: [{ key: upper }], saved: true } })
    expect(real.bench.saved('ind-1')[upper]).toEqual(wantedWords)

    const compared = await spanwright('settings', 'compare', ...job())
    expect([compared.code, compared.out]).toEqual([0, '1 intended setting, none differs.\n'])

    const found = await spanwright('settings', 'restore', ...job(), '--to', 'as-found', '--by', 'A. Tester', '--dry-run', '--json')
    expect(fitting('settings-restore', found.out)).toMatchObject({ wrote: false, preview: { writes: [{ key: upper, held: '1.6' }] } })

    const restored = await spanwright('settings', 'restore', ...job(), ...by)
    expect(restored.code).toBe(0)
    expect(real.bench.saved('ind-1')).toEqual(before)
    const { visits } = JSON.parse(readFileSync(real.jobPath, 'utf8')) as Job
    expect(visits).toHaveLength(1)
  })

  it('says for each parameter what was wanted, before and now where the indicator refuses', async () => {
    const before = real.bench.settings('ind-1')
    real.bench.inject('ind-1', { kind: 'refuse', register: upper, code: 3, times: 1 })
    const { code, err } = await spanwright('settings', 'write', ...job(), ...by)
    expect(code).toBe(1)
    expect(err).toMatch(/Failed while writing: The indicator refused .*exception 3/)
    expect(err).toMatch(/scale\.upper\.signal@1 +wanted 1\.6, before 1\.5452, now 1\.5452/)
    expect(real.bench.settings('ind-1')).toEqual(before)
  })

  it('finishes the write on Ctrl-C and says so', async () => {
    real.bench.inject('ind-1', { kind: 'late', byMs: 150, times: 1000 })
    const started = startCommand('settings', 'write', ...job(), ...by, '--json')
    await started.said(underWay)
    started.child.kill('SIGINT')
    const { code, out, err } = await started.ended
    expect(code).toBe(130)
    expect(err).toContain('A write is under way')
    expect(fitting('settings-write', out)).toMatchObject({ wrote: true })
    expect(real.bench.saved('ind-1')[upper]).toEqual(wantedWords)
  })

  it('ends a write that was killed, and allows no other before', async () => {
    const before = real.bench.saved('ind-1')
    real.bench.inject('ind-1', { kind: 'late', byMs: 150, times: 1000 })
    const started = startCommand('settings', 'write', ...job(), ...by)
    const changed = () => real.bench.settings('ind-1')[upper]
    await vi.waitFor(() => expect(changed()).toEqual(wantedWords), { timeout: 20_000, interval: 5 })
    started.child.kill('SIGKILL')
    await started.ended
    real.bench.clearFaults('ind-1')

    const barred = await spanwright('settings', 'write', ...job(), ...by, '--json')
    expect(changed()).toEqual(wantedWords)
    expect(barred.code).toBe(4)
    expect(fitting<{ why: string }>('failure', barred.out).why).toContain('was interrupted. End it first')
    const resolved = await spanwright('settings', 'resolve', ...job(), '--how', 'restore', '--by', 'A. Tester', '--json')
    expect(resolved.code).toBe(0)
    expect(fitting('settings-resolve', resolved.out)).toMatchObject({ how: 'restore' })
    expect(real.bench.saved('ind-1')).toEqual(before)
  })
})

describe('refuses as the host refuses', () => {
  afterEach(() => real.close())

  it('a sealed indicator', async () => {
    real = await startRealBench((job) => {
      const open = intends(job)
      return { ...open, indicators: open.indicators.map((i) => ({ ...i, sealed: { seals: 'S-1, S-2' } })) }
    })
    const { code, out } = await spanwright('settings', 'write', ...job(), ...by, '--json')
    expect(code).toBe(4)
    const { why } = fitting<{ why: string }>('failure', out)
    expect(why).toContain('sealed (S-1, S-2)')
    expect(real.bench.requests('ind-1').log.some((r) => r.kind === 'write')).toBe(false)
  })

  it('an indicator that does not answer, with what to look at', async () => {
    real = await startRealBench()
    real.bench.power('ind-1', false)
    const { code, out } = await spanwright('identify', ...job(), '--json')
    expect(code).toBe(1)
    expect(fitting('failure', out)).toMatchObject({ detail: { kind: 'no-reply' } })
    const wrong = await spanwright('identify', ...job(), '--indicator', 'ind-9')
    expect(wrong.code).toBe(2)
    expect(wrong.err).toContain('ind-1 (Hopper A transmitter)')
  })
})
