import { afterEach, beforeEach, expect, it } from 'vitest'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'

let practice: PracticeHost
const now = () => practice.host.topics.get('job')
const held = () => now()?.indicators.find((i) => i.id === 'ind-1')?.sealed
const breakSeal = (seals: string, reason = 'cell 2 replaced') => {
  const change = { sealed: { seals, broken: { by: 'A. Tester', reason } } }
  return practice.host.call('indicator.edit', { revision: now()?.revision ?? 0, indicatorId: 'ind-1', change })
}

beforeEach(async () => {
  const job = practiceJob()
  const indicators = job.indicators.map((i) => ({ ...i, sealed: { seals: 'S-1, S-2' } }))
  practice = await startPracticeHost({ job: { ...job, indicators } })
})
afterEach(() => practice.close())

it.each(['S-1', 'S-1, S-3', 'S-1, S-2, S-3', 'S-12'])('is not broken with the numbers %s where S-1 and S-2 are noted', async (seals) => {
  expect(await breakSeal(seals)).toMatchObject({ ok: false, failure: { why: expect.stringContaining('S-1, S-2'), where: 'sealed.seals' } })
  expect(held()).toEqual({ seals: 'S-1, S-2' })
})

it('is broken with the numbers noted, in any order, once', async () => {
  value(await breakSeal('S-2 S-1'))
  const broken = held()
  expect(broken).toMatchObject({ broken: { by: 'A. Tester', reason: 'cell 2 replaced' } })
  expect(await breakSeal('S-1, S-2', 'another')).toMatchObject({ ok: false, failure: { where: 'sealed.broken' } })
  expect(held()).toEqual(broken)
})
