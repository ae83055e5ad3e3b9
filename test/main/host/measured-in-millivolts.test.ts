import { afterAll, beforeAll, expect, it } from 'vitest'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'

const pointId = 'wt-101'
let practice: PracticeHost
beforeAll(async () => {
  practice = await startPracticeHost()
})
afterAll(() => practice.close())

const revision = () => practice.host.topics.get('job')?.revision ?? 0
const measured = () => practice.host.topics.get('job')?.points.find((p) => p.id === pointId)?.measured
const excited = async (volts: string) => {
  const change = { measured: { ...measured(), excitation: { value: volts, unit: 'V' as const } } }
  value(await practice.host.call('point.edit', { pointId, revision: revision(), change }))
}

it('a zero in mV is kept with the excitation that is measured when it is taken', async () => {
  const { call, topics } = practice.host
  const described = bundledProfiles.get('two-pairs-float32-locked')
  // The same unit, its signal taken for mV.
  const text = JSON.stringify({
    ...described,
    id: 'signal-in-millivolts',
    input: { ...described?.input, ratiometric: false, signalUnit: 'mV' },
    registers: described?.registers.map((r) => (r.name === 'live.signal' ? { ...r, unit: 'mV' } : r)),
  })
  const { profileId } = value(await call('profile.import', { text, replace: false }))
  value(await call('indicator.edit', { revision: revision(), indicatorId: 'ind-1', change: { profileId } }))
  value(await call('indicator.identify', { indicatorId: 'ind-1' }))
  value(await call('live.start', { pointIds: [pointId] }))
  const takeZero = async () => {
    await expect.poll(() => topics.get('live', pointId), { timeout: 10_000 }).toMatchObject({ state: 'fresh', steady: true })
    value(await call('point.measure-zero', { pointId, revision: revision() }))
  }

  await takeZero()
  expect(measured()?.zeroSignal?.unit).toBe('mV')
  expect(measured()?.zeroExcitation).toBeUndefined()
  await excited('4.98')
  await takeZero()
  expect(measured()?.zeroExcitation).toEqual({ value: '4.98', unit: 'V' })
  await excited('9.98')
  expect(measured()?.zeroExcitation).toEqual({ value: '4.98', unit: 'V' })
}, 30_000)
