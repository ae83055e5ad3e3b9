import { afterEach, beforeEach, expect, it } from 'vitest'
import { fitting, type RealBench, spanwright, startRealBench } from '../../builders/command-line.ts'

let real: RealBench
const job = () => ['--job', real.jobPath]
const breakSeal = (...args: string[]) => spanwright('break-seal', ...job(), '--reason', 'cell 2 replaced', ...args)
const by = ['--by', 'A. Tester']
const write = () => spanwright('settings', 'write', ...job(), ...by, '--yes')

beforeEach(async () => {
  real = await startRealBench((whole) => ({
    ...whole,
    points: whole.points.map((p) => ({ ...p, intended: { 'scale.upper.signal@1': '1.6' } })),
    indicators: whole.indicators.map((i) => ({ ...i, sealed: { seals: 'S-1, S-2' } })),
  }))
})
afterEach(() => real.close())

it('lets a sealed indicator be written, once name, reason and the seal numbers noted are given', async () => {
  expect((await breakSeal('--seals', 'S-1, S-2')).code).toBe(2)
  const other = await breakSeal(...by, '--seals', 'S-9', '--json')
  expect(other.code).toBe(4)
  expect(fitting<{ why: string }>('failure', other.out).why).toContain('The seals noted are S-1, S-2, given are S-9')
  expect((await write()).code).toBe(4)

  const broken = await breakSeal(...by, '--seals', 'S-2, S-1', '--json')
  expect(broken.code).toBe(0)
  expect(fitting('break-seal', broken.out)).toMatchObject({ indicator: { id: 'ind-1' }, by: 'A. Tester', reason: 'cell 2 replaced' })
  expect((await write()).code).toBe(0)
  expect((await breakSeal(...by, '--seals', 'S-1, S-2')).code).toBe(4)
}, 30_000)
