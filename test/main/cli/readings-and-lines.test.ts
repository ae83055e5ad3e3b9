import { readFileSync } from 'node:fs'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Job, QuickCheck } from '../../../app/job/schema.ts'
import { fitting, type RealBench, spanwright, startCommand, startRealBench } from '../../builders/command-line.ts'

let real: RealBench
beforeEach(async () => {
  real = await startRealBench()
})
afterEach(() => real.close())

const job = () => ['--job', real.jobPath]
const link = () => {
  const address = real.bench.addressOf('line-1')
  return ['--link', 'port' in address ? `modbus-tcp:${address.host}:${address.port}` : '']
}

describe('live', () => {
  it('gives a line of JSON for each reading and ends by itself', async () => {
    const { code, out } = await spanwright('live', ...job(), '--for', '0.8', '--json')
    expect(code).toBe(0)
    const lines = out.trim().split('\n')
    expect(lines.length).toBeGreaterThan(1)
    for (const line of lines) expect(fitting('live', line)).toMatchObject({ state: 'fresh', tag: 'WT-101', unit: 'kg' })
  })

  it('says when readings fail, and ends by Ctrl-C with 1 where they still do', async () => {
    const started = startCommand('live', ...job(), '--point', 'WT-101')
    await started.said('WT-101')
    real.bench.power('ind-1', false)
    await started.said('no reading: No answer')
    started.child.kill('SIGINT')
    expect((await started.ended).code).toBe(1)
  })

  it('ends by Ctrl-C with 0 where it reads', async () => {
    const started = startCommand('live', ...job())
    await started.said('WT-101')
    started.child.kill('SIGINT')
    const { code, out } = await started.ended
    expect(code).toBe(0)
    // As measured it comes with all digits of a single float.
    expect(out).toMatch(/^\S+ {2}WT-101 {2}-?\d+\.\d kg {2}-?\d\.\d{5} mV\/V {2}/)
  })
})

describe('check', () => {
  const by = ['--by', 'A. Tester']

  it('judges typed readings without touching the bus, and keeps them in the job', async () => {
    const within = await spanwright('check', ...job(), ...by, '--load', '0=0.0', '500=500.4', '0=0.0', '--json')
    expect(within.code).toBe(0)
    expect(fitting('check', within.out)).toMatchObject({ verdict: 'within', errors: [{}, { load: '500', error: '0.40' }, {}] })
    const outside = await spanwright('check', ...job(), ...by, '--when', 'as-left', '--load', '0=0', '500=500.6', '0=0')
    expect(outside.code).toBe(3)
    expect(outside.out).toContain('WT-101, as left: outside')
    expect(real.bench.requests('ind-1').count).toBe(0)
    const { visits } = JSON.parse(readFileSync(real.jobPath, 'utf8')) as Job
    expect(visits.map((v) => v.checks.map((c) => c.when))).toEqual([['as-found', 'as-left']])
  })

  it('asks for the load and takes the steady reading', async () => {
    const started = startCommand('check', ...job(), ...by, '--load', '500', '--json')
    await started.said('Put 500 kg on WT-101, then press Enter.')
    real.bench.setLoad('ind-1', 1, 500)
    started.child.stdin?.write('\n')
    const { code, out } = await started.ended
    expect(code).toBe(3)
    const { check } = fitting<{ check: QuickCheck }>('check', out)
    expect(check.steps).toMatchObject([{ load: '500', origin: 'live' }])
    expect(Math.abs(Number(check.steps[0]?.reading) - 500)).toBeLessThan(2)
  })

  it('refuses a load that is no number, and a check without a name', async () => {
    const wrong = await spanwright('check', ...job(), ...by, '--load', '1,5')
    expect([wrong.code, wrong.err.includes('a decimal number with a point')]).toEqual([2, true])
    expect((await spanwright('check', ...job(), '--load', '0=0')).code).toBe(2)
  })
})

describe('registers', () => {
  it('shows a block as words', async () => {
    const { code, out } = await spanwright('registers', ...link(), '--unit', '1', '--from', '0', '--count', '2', '--json')
    expect(code).toBe(0)
    // The model and firmware numbers that the practice bench was given.
    expect(fitting('registers', out)).toMatchObject({ unit: 1, table: 'holding', from: 0, words: [20817, 214] })
  })

  it('lists what agrees with the display', async () => {
    // The practice bench holds 1000 as upper reading: 447a 0000 as a single float (IEEE 754-2019, 3.4).
    const block = ['--unit', '1', '--from', '114', '--count', '4', '--display', '1000']
    const { code, out } = await spanwright('registers', ...link(), ...block, '--json')
    expect(code).toBe(0)
    const { words, candidates } = fitting<{ words: number[]; candidates: { address: number }[] }>('registers', out)
    expect(words.slice(2)).toEqual([0x447a, 0x0000])
    expect(candidates).toContainEqual({ address: 116, type: 'f32', order: 'ABCD', text: '1000', agrees: 'exact' })
    expect(candidates.every((c) => c.address >= 116)).toBe(true)
  })

  it('says what the unit refuses', async () => {
    const { code, out } = await spanwright('registers', ...link(), '--unit', '1', '--from', '0xfff0', '--json')
    expect(code).toBe(1)
    expect(fitting('failure', out)).toMatchObject({ detail: { kind: 'refused', code: 2 } })
  })
})

describe('scan', () => {
  it('says beforehand how long it takes at most, and finds what answers', async () => {
    const { code, out, err } = await spanwright('scan', ...link(), '--units', '1-2', '--answer-ms', '100', '--json')
    expect(code).toBe(0)
    expect(err).toMatch(/^2 requests in 2 steps, only reads: 1 s at most/)
    expect(fitting('scan', out)).toMatchObject({ complete: true, asked: 2, found: [{ unit: 1, format: null }], unclear: [] })
  })

  it('lists each unit once, as it answers', async () => {
    const { code, out, err } = await spanwright('scan', ...link(), '--units', '1-2', '--answer-ms', '100')
    expect(code).toBe(0)
    expect(out).toMatch(/^unit 1: answers in \d+ ms\n$/)
    expect(err).not.toContain('answers')
  })

  it('says so where nobody answers', async () => {
    const { out } = await spanwright('scan', ...link(), '--units', '3', '--answer-ms', '50')
    expect(out).toBe('No unit answered.\n')
  })

  it('ends by Ctrl-C with what it found', async () => {
    const started = startCommand('scan', ...link(), '--units', '1-247', '--json')
    await started.said('3 of 247')
    started.child.kill('SIGINT')
    const { code, out } = await started.ended
    expect(code).toBe(130)
    expect(fitting('scan', out)).toMatchObject({ complete: false, found: [{ unit: 1 }] })
  })
})
