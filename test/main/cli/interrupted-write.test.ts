import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Job } from '../../../app/job/schema.ts'
import { fitting, type RealBench, spanwright, startCommand, startRealBench } from '../../builders/command-line.ts'

const upper = 'scale.upper.signal@1'
/** 1.6 as the nearest single float, IEEE 754-2019, 3.4: 3fcc cccd. */
const wantedWords = [0x3fcc, 0xcccd]
const intends = (job: Job): Job => ({ ...job, points: job.points.map((p) => ({ ...p, intended: { [upper]: '1.6' } })) })

let real: RealBench
const job = () => ['--job', real.jobPath]
const by = ['--by', 'A. Tester']
const resolve = (how: string) => spanwright('settings', 'resolve', ...job(), '--how', how, ...by, '--json')

beforeEach(async () => {
  real = await startRealBench(intends)
})
afterEach(() => real.close())

/** Progress is told after a second: how far the write is by then hangs on the machine. */
const underWay = /unlocking|writing|reading back|saving|reading all/

/** A write that answers slowly, under way. */
async function slowWrite() {
  real.bench.inject('ind-1', { kind: 'late', byMs: 250, times: 1000 })
  const started = startCommand('settings', 'write', ...job(), ...by, '--yes', '--json')
  await started.said(underWay)
  return started
}

describe('a write that was interrupted', { timeout: 60_000 }, () => {
  it('by a second Ctrl-C stops sending, says what is not known, and is completed later', async () => {
    const started = await slowWrite()
    started.child.kill('SIGINT')
    await started.said('A write is under way: it is finished, or the old values are put back, before this ends. Ctrl-C again stops')
    // Presses close together count as one; whoever holds the keys down is heard all the same.
    const again = setInterval(() => started.child.kill('SIGINT'), 100)
    await started.said('Sending is stopped. The journal keeps the way back')
    clearInterval(again)
    const { code, out } = await started.ended
    expect(code).toBe(130)
    expect(fitting('failure', out)).toMatchObject({ detail: { kind: 'failed', because: { kind: 'stopped' }, end: 'not-restored' } })
    real.bench.clearFaults('ind-1')

    const barred = await spanwright('settings', 'write', ...job(), ...by, '--yes')
    expect([barred.code, barred.err]).toEqual([4, expect.stringContaining('settings resolve --how restore, complete or leave')])
    const completed = await resolve('complete')
    expect(completed.code).toBe(0)
    expect(fitting('settings-resolve', completed.out)).toMatchObject({
      how: 'complete',
      receipt: { written: [{ key: upper, intended: '1.6' }] },
    })
    expect(real.bench.saved('ind-1')[upper]).toEqual(wantedWords)
    expect((await spanwright('settings', 'compare', ...job())).code).toBe(0)
  })

  it('by a kill is left as it is where that is wanted, and the next one is allowed', async () => {
    const started = await slowWrite()
    started.child.kill('SIGKILL')
    await started.ended
    real.bench.clearFaults('ind-1')
    const before = real.bench.settings('ind-1')
    const left = await resolve('leave')
    expect(left.code).toBe(0)
    expect(fitting('settings-resolve', left.out)).toMatchObject({ how: 'leave', receipt: { written: [] } })
    expect(real.bench.settings('ind-1')).toEqual(before)
    const again = await resolve('leave')
    expect([again.code, fitting<{ why: string }>('failure', again.out).why]).toEqual([1, expect.stringContaining('nothing to end')])
    expect((await spanwright('settings', 'write', ...job(), ...by, '--yes')).code).toBe(0)
  })
})
