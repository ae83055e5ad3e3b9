import { afterAll, beforeAll, expect, it } from 'vitest'
import { differenceLine } from '../../../main/cli/setting-lines.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'

let practice: PracticeHost
beforeAll(async () => {
  practice = await startPracticeHost()
})
afterAll(() => practice.close())

const call: PracticeHost['host']['call'] = (name, request) => practice.host.call(name, request)
const revision = () => practice.host.topics.get('job')?.revision ?? -1
const entries = async () => value(await call('log.read', {})).entries

it('keeps with each number the unit that it was in, where a write changes that', async () => {
  const values = { 'reading.unit@1': 't', 'reading.decimals@1': '4', 'reading.interval@1': '0.0002' }
  value(await call('point.intend', { pointId: 'wt-101', revision: revision(), values }))
  const preview = value(await call('settings.preview', { indicatorId: 'ind-1' }))
  const across = { key: 'reading.interval@1', held: '0.2', heldUnit: 'kg', intended: '0.0002', unit: 't' }
  expect(preview.writes).toContainEqual(across)
  const receipt = value(await call('settings.write', { previewId: preview.previewId }))
  expect(receipt.written).toContainEqual(across)
  expect((await entries()).flatMap((e) => e.values)).toContainEqual({
    key: across.key,
    old: '0.2',
    oldUnit: 'kg',
    new: '0.0002',
    unit: 't',
  })
  expect(differenceLine(across)).toMatch(/0\.2 kg → 0\.0002 t$/)
})
