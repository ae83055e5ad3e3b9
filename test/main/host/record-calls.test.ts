import { chmodSync, mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { LiveSample } from '../../../app/contract/views.ts'
import { readRecording } from '../../../main/files/recording.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'
import { topicSeen } from '../../builders/topic-seen.ts'
import { unprivilegedUntil } from '../../builders/unprivileged.ts'

let practice: PracticeHost
beforeAll(async () => {
  practice = await startPracticeHost()
})
afterAll(() => practice.close())

const pointIds = ['wt-101']
const call: PracticeHost['host']['call'] = (name, request) => practice.host.call(name, request)
const folder = () => join(dirname(practice.jobPath), 'practice.job', 'recordings')
const view = (pointId = 'wt-101') => practice.host.topics.get('recording', pointId)
const refused = (why: string) => ({ ok: false, failure: { why: expect.stringContaining(why) } })

/** The next batch of samples of the point that the host sends to its renderers; none sent before counts. */
const nextSamples = (pointId = 'wt-101') =>
  new Promise<readonly LiveSample[]>((resolve) => {
    const stop = practice.host.topics.subscribe((message) => {
      if (message.kind !== 'samples' || !message.samples.some((s) => s.pointId === pointId)) return
      stop()
      resolve(message.samples)
    })
  })

it('records what every renderer is sent, also when the page asks for other points, and ends whole', async () => {
  const { files } = value(await call('record.start', { pointIds }))
  expect(view()).toMatchObject({ state: 'recording', file: files[0] })
  value(await call('live.start', { pointIds: [] }))
  // Two batches: the first may have been on its way already.
  await nextSamples()
  const batch = await nextSamples()
  expect(await call('record.start', { pointIds })).toMatchObject(refused('already'))
  expect(value(await call('record.stop', { pointIds }))).toEqual({ files })
  const recorded = value(readRecording(join(folder(), files[0] ?? '')))
  expect(recorded).toMatchObject({
    ended: true,
    header: { job: 'Feed mill, line 2', point: 'WT-101', unit: 'kg', indicators: 'simulated', 'recorded by': 'A. Tester' },
  })
  const sent = batch.filter((s) => s.pointId === 'wt-101').map((s) => s.reading)
  expect(sent.length).toBeGreaterThan(0)
  expect(recorded.samples.map((s) => s.reading)).toEqual(expect.arrayContaining(sent))
  expect(view()).toMatchObject({ state: 'ended', rows: recorded.samples.length })
})

it('polls a point that nobody looks at for as long as it is recorded', async () => {
  value(await call('live.start', { pointIds: [] }))
  value(await call('record.start', { pointIds: ['wt-102'] }))
  await nextSamples('wt-102')
  value(await call('record.stop', { pointIds: ['wt-102'] }))
})

it('names the gap where readings fail meanwhile, and goes on after it', async () => {
  const { files } = value(await call('record.start', { pointIds }))
  await nextSamples()
  practice.bench.power('ind-1', false)
  await topicSeen(practice.host, 'live', 'wt-101', (v) => v.state === 'stale')
  practice.bench.power('ind-1', true)
  await nextSamples()
  value(await call('record.stop', { pointIds }))
  const { samples } = value(readRecording(join(folder(), files[0] ?? '')))
  const gaps = samples.filter((s) => s.reading === null)
  expect(gaps.map((s) => s.status)).toEqual([expect.stringMatching(/^no reading: No answer in/)])
  expect(samples.at(-1)?.reading).not.toBeNull()
})

it('refuses points it does not know or that are named twice, and stops none that is not recorded', async () => {
  expect(await call('record.start', { pointIds: ['nobody'] })).toMatchObject(refused('no measuring point nobody'))
  expect(await call('record.start', { pointIds: ['wt-101', 'wt-101'] })).toMatchObject(refused('named twice'))
  expect(await call('record.stop', { pointIds })).toMatchObject(refused('not being'))
})

it('says where it cannot record, and leaves nothing half begun', async () => {
  rmSync(folder(), { recursive: true })
  mkdirSync(folder())
  chmodSync(folder(), 0o555)
  await unprivilegedUntil(async () => {
    expect(await call('record.start', { pointIds: ['wt-101', 'wt-102'] })).toMatchObject(
      refused('Not recording: The folder cannot be written to'),
    )
  })
  chmodSync(folder(), 0o755)
  value(await call('record.start', { pointIds: ['wt-101', 'wt-102'] }))
})

it('records none of several where one of them cannot be recorded, and ends the file of those before it', async () => {
  value(await call('record.stop', { pointIds: ['wt-101', 'wt-102'] }))
  const away = `${folder()}-away`
  const stop = practice.host.topics.subscribe((m) => {
    if (m.kind !== 'topic' || m.topic !== 'recording' || m.key !== 'wt-101') return
    stop()
    renameSync(folder(), away)
    writeFileSync(folder(), '')
  })
  expect(await call('record.start', { pointIds: ['wt-101', 'wt-102'] })).toMatchObject(refused('Not recording'))
  expect(view()).toMatchObject({ state: 'ended' })
  expect(value(readRecording(join(away, view()?.file ?? ''))).ended).toBe(true)
  expect(await call('record.stop', { pointIds })).toMatchObject(refused('not being'))
  rmSync(folder())
  renameSync(away, folder())
  value(await call('record.start', { pointIds: ['wt-101', 'wt-102'] }))
})

it('ends every recording with the host', async () => {
  const files = ['wt-101', 'wt-102'].map((pointId) => view(pointId)?.file ?? '')
  await practice.host.close()
  for (const file of files) expect(value(readRecording(join(folder(), file))).ended).toBe(true)
})
