import { afterEach, beforeEach, expect, it } from 'vitest'
import { openHostOn, type PracticeHost, startPracticeHost } from '../../builders/practice-host.ts'

let practice: PracticeHost
beforeEach(async () => {
  practice = await startPracticeHost({ start: false })
})
afterEach(() => practice.close())
const loads = () => Object.fromEntries(Object.entries(practice.host.topics.get('applied')?.loads ?? {}).map(([id, { load }]) => [id, load]))

it('keeps what people say is on a point until it is unknown again', async () => {
  await practice.host.call('load.tell', { pointId: 'wt-101', load: '500' })
  await practice.host.call('load.tell', { pointId: 'wt-102', load: '0' })
  expect(loads()).toEqual({ 'wt-101': '500', 'wt-102': '0' })
  await practice.host.call('load.tell', { pointId: 'wt-101', load: null })
  expect(loads()).toEqual({ 'wt-102': '0' })
})

it('knows what was put on the practice bench, since somebody put it there', async () => {
  await practice.host.call('practice.load', { pointId: 'wt-101', load: '250' })
  expect(loads()).toEqual({ 'wt-101': '250' })
})

it('forgets it once the point is in another unit or counts pressure from something else, and not for another edit', async () => {
  const pointId = 'pt-301'
  const edit = (change: Record<string, unknown>) =>
    practice.host.call('point.edit', { pointId, revision: practice.host.topics.get('job')?.revision ?? 0, change })
  await practice.host.call('load.tell', { pointId, load: '0' })
  await edit({ name: 'Press, ram side' })
  expect(loads()).toEqual({ 'pt-301': '0' })
  await edit({ loadPath: { sharePercent: '100', pressure: 'absolute' } })
  expect(loads()).toEqual({})
})

it('refuses a point that there is not', async () => {
  expect(await practice.host.call('load.tell', { pointId: 'wt-999', load: '1' })).toMatchObject({
    ok: false,
    failure: { where: 'pointId' },
  })
})

it('forgets it with the program: it is not kept in the job', async () => {
  await practice.host.call('load.tell', { pointId: 'wt-101', load: '500' })
  await practice.host.close()
  const again = openHostOn(practice.bench, practice.jobPath)
  expect(again.topics.get('applied')).toEqual({ loads: {} })
  practice = { ...practice, host: again }
})
