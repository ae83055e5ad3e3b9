import { afterEach, beforeEach, expect, it } from 'vitest'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { fitting, type RealBench, spanwright, startRealBench } from '../../builders/command-line.ts'

const upper = 'scale.upper.signal@1'
const model = bundledProfiles.get('two-pairs-float32-locked')!
/** The same model, of which the manual gives nothing to tell it by. */
const untold = { ...model, id: 'untold', identity: { ...model.identity, tests: [] } }

let real: RealBench
const job = () => ['--job', real.jobPath]
const write = (...args: string[]) => spanwright('settings', 'write', ...job(), '--by', 'A. Tester', '--yes', ...args)

beforeEach(async () => {
  real = await startRealBench((whole) => ({
    ...whole,
    profiles: [untold],
    indicators: whole.indicators.map((i) => ({ ...i, profileId: 'untold' })),
    points: whole.points.map((p) => ({ ...p, intended: { [upper]: '1.6' } })),
  }))
})
afterEach(() => real.close())

it('a unit that cannot be told is written only once somebody has compared it with its front panel', async () => {
  const identified = await spanwright('identify', ...job())
  expect(identified.code).toBe(3)
  expect(identified.out).toMatch(/cannot be told\. Compare with its front panel:\n {2}identity\.model +\d+/)

  const refused = await write('--json')
  expect(refused.code).toBe(4)
  expect(fitting<{ why: string }>('failure', refused.out).why).toContain('compare three register values with its front panel')
  expect(real.bench.requests('ind-1').log.some((r) => r.kind === 'write')).toBe(false)

  const written = await write('--panel-agrees', '--json')
  expect(written.code).toBe(0)
  expect(fitting('settings-write', written.out)).toMatchObject({ wrote: true })
  // 1.6 as the nearest single float, IEEE 754-2019, 3.4.
  expect(real.bench.saved('ind-1')[upper]).toEqual([0x3fcc, 0xcccd])
}, 30_000)
