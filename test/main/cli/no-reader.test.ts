import { afterEach, beforeEach, expect, it } from 'vitest'
import { type RealBench, startCommand, startRealBench } from '../../builders/command-line.ts'

let real: RealBench
beforeEach(async () => {
  real = await startRealBench((job) => ({ ...job, points: job.points.map((p) => ({ ...p, intended: { 'scale.upper.signal@1': '1.6' } })) }))
})
afterEach(() => real.close())

it('readings that nobody reads any more end in order, without a word', async () => {
  const started = startCommand('live', '--job', real.jobPath)
  await started.said('WT-101')
  started.child.stdout?.destroy()
  const { code, err } = await started.ended
  expect([code, err]).toEqual([0, ''])
}, 30_000)

it('a write whose output nobody reads any more is written, saved and noted as any other', async () => {
  const started = startCommand('settings', 'write', '--job', real.jobPath, '--by', 'A. Tester', '--yes')
  started.child.stdout?.destroy()
  started.child.stderr?.destroy()
  const { code } = await started.ended
  expect(code).toBe(0)
  // 1.6 as the nearest single float, IEEE 754-2019, 3.4.
  expect(real.bench.saved('ind-1')['scale.upper.signal@1']).toEqual([0x3fcc, 0xcccd])
}, 30_000)
