import { afterEach, expect, it } from 'vitest'
import { binUnitsIn, practiceJobOf } from '../../../main/practice/practice-bins.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { type PracticeHost, startPracticeHost } from '../../builders/practice-host.ts'

let practice: PracticeHost | undefined
afterEach(() => practice?.close())

it.each([1, 5, 8, 30])('a practice job of %i points has so many, each on a channel of its own, on buses that are used', (count) => {
  const job = practiceJobOf(count)
  expect(job.points).toHaveLength(count)
  expect(new Set(job.points.map((p) => p.tag)).size).toBe(count)
  expect(new Set(job.points.map((p) => `${p.indicatorId} ${p.channel}`)).size).toBe(count)
  expect(job.buses.filter((b) => !job.indicators.some((i) => i.busId === b.id))).toEqual([])
})

it('is the demo job itself where as many points are asked for as it has', () => {
  expect(practiceJobOf(5)).toEqual(practiceJob())
  expect(binUnitsIn(practiceJob())).toBe(0)
})

it('every one of 30 points is there on the bench and reads', async () => {
  const job = practiceJobOf(30)
  practice = await startPracticeHost({ job })
  const { host } = practice
  const { topics } = host
  const unknown = () => job.indicators.filter((i) => topics.get('indicator', i.id)?.identity.outcome !== 'confirmed')
  // A busy computer may have kept an answer waiting for too long: asked once more, as a user would.
  for (const { id } of unknown()) await host.call('indicator.identify', { indicatorId: id })
  expect(unknown()).toEqual([])
  await expect.poll(() => job.points.filter((p) => topics.get('live', p.id)?.state !== 'fresh').map((p) => p.tag)).toEqual([])
})
