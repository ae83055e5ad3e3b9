import { dirname, join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { LiveSample } from '../../../app/contract/views.ts'
import { readRecording } from '../../../main/files/recording.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'

let practice: PracticeHost
beforeAll(async () => {
  practice = await startPracticeHost()
})
afterAll(() => practice.close())

const pointIds = ['wt-101']

/** The next batch of samples that the host sends to its renderers. */
const nextSamples = () =>
  new Promise<readonly LiveSample[]>((resolve) => {
    const stop = practice.host.topics.subscribe((message) => {
      if (message.kind !== 'samples' || !message.samples.some((s) => s.pointId === 'wt-101')) return
      stop()
      resolve(message.samples)
    })
  })

it('records what every renderer is sent, also when the page asks for other points, and ends whole', async () => {
  const { files } = value(await practice.host.call('record.start', { pointIds }))
  expect(practice.host.topics.get('recording', 'wt-101')).toMatchObject({ state: 'recording', file: files[0] })
  value(await practice.host.call('live.start', { pointIds: [] }))
  const batch = await nextSamples()
  expect(await practice.host.call('record.start', { pointIds })).toMatchObject({
    ok: false,
    failure: { why: expect.stringContaining('already') },
  })
  expect(value(await practice.host.call('record.stop', { pointIds }))).toEqual({ files })
  const file = join(dirname(practice.jobPath), 'practice.job', 'recordings', files[0] ?? '')
  const recorded = value(readRecording(file))
  expect(recorded).toMatchObject({
    ended: true,
    header: { job: 'Feed mill, line 2', point: 'WT-101', unit: 'kg', indicators: 'simulated', 'recorded by': 'A. Tester' },
  })
  const sent = batch.filter((s) => s.pointId === 'wt-101').map((s) => s.reading)
  expect(sent.length).toBeGreaterThan(0)
  expect(recorded.samples.map((s) => s.reading)).toEqual(expect.arrayContaining(sent))
  expect(practice.host.topics.get('recording', 'wt-101')).toMatchObject({ state: 'ended', rows: recorded.samples.length })
})

it('refuses points it does not know and stops none that is not recorded', async () => {
  expect(await practice.host.call('record.start', { pointIds: ['nobody'] })).toMatchObject({ ok: false })
  expect(await practice.host.call('record.stop', { pointIds })).toMatchObject({
    ok: false,
    failure: { why: expect.stringContaining('not being') },
  })
})
