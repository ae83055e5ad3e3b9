import { appendFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { journalFolder } from '../../../main/files/write-journal.ts'
import { openHostOn, type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'

let practice: PracticeHost
beforeAll(async () => {
  practice = await startPracticeHost()
})
afterAll(() => practice.close())

const call: PracticeHost['host']['call'] = (name, request) => practice.host.call(name, request)
const revision = () => practice.host.topics.get('job')?.revision ?? -1
const entries = async (filter = {}) => value(await call('log.read', filter)).entries

it('tells every write with old and new value, by whom, and what became of it; also one that was cut off', async () => {
  const logged = () => practice.host.topics.get('session')?.logged
  expect(await entries()).toEqual([])
  expect(logged()).toBe(0)
  value(await call('point.intend', { pointId: 'wt-101', revision: revision(), values: { 'filter.time@1': '0.50' } }))
  const preview = value(await call('settings.preview', { indicatorId: 'ind-1' }))
  value(await call('settings.write', { previewId: preview.previewId }))
  const [written] = await entries()
  expect(logged()).toBe(1)
  expect(written).toMatchObject({
    by: 'A. Tester',
    indicator: 'Hopper A transmitter',
    tags: ['WT-101'],
    kind: 'write',
    values: [{ key: 'filter.time@1', old: preview.writes[0]?.held, new: '0.50' }],
    result: 'written',
  })

  const folder = join(dirname(practice.jobPath), 'practice.job')
  const begin = { at: '2027-01-01T10:00:00.000Z', by: 'B. Other', indicatorId: 'ind-3', unit: 7, profileId: 'two-pairs-four-channels' }
  const wanted = [{ key: 'filter.time@2', value: '0.9', words: [9] }]
  value(journalFolder(join(folder, 'journal')).begin({ kind: 'begin', ...begin, before: { at: begin.at, values: {} }, wanted })).close()
  appendFileSync(join(folder, 'log.jsonl'), '{"at":"2027-01-02T10:00:00Z","by":"cut o')
  const log = value(await call('log.read', {}))
  expect(log.unreadable).toBe(1)
  expect(log.entries.map((e) => [e.by, e.result, e.tags])).toEqual([
    ['B. Other', 'open', ['WT-202']],
    ['A. Tester', 'written', ['WT-101']],
  ])
  expect((await entries({ pointId: 'wt-202' })).map((e) => e.by)).toEqual(['B. Other'])
  expect(await entries({ pointId: 'wt-201' })).toEqual([])
  expect((await entries({ indicatorId: 'ind-1' })).map((e) => e.by)).toEqual(['A. Tester'])
  expect(await call('log.read', { pointId: 'nobody' })).toMatchObject({ ok: false, failure: { why: expect.stringContaining('nobody') } })
})

it('compares this visit with the one before: what was left then and is found otherwise now', async () => {
  expect(await call('visits.compare', {})).toMatchObject({ ok: false, failure: { why: expect.stringContaining('first visit') } })
  await practice.host.close()
  // Between the visits somebody stood at the front panel: 0.90 s instead of the 0.50 s that were left.
  practice.bench.panel('ind-1', 'filter.time@1', [90])
  const nextYear = openHostOn(practice.bench, practice.jobPath)
  await nextYear.call('visit.start', { by: 'C. Next' })
  value(await nextYear.call('bus.open', { busId: 'bus-1' }))
  value(await nextYear.call('settings.read', { indicatorId: 'ind-1' }))
  const { later, indicators } = value(await nextYear.call('visits.compare', {}))
  expect(later.by).toBe('C. Next')
  expect(indicators[0]).toMatchObject({ since: { by: 'A. Tester' }, moved: [{ key: 'filter.time@1', held: '0.50', intended: '0.90' }] })
  expect(indicators[1]).toMatchObject({ since: null, why: expect.stringContaining('not read in the later') })
  await nextYear.close()
})
