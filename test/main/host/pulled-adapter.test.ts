import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { TopicName, TopicValue } from '../../../app/contract/contract.ts'
import { openHostOn, type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'
import { topicSeen } from '../../builders/topic-seen.ts'

const busId = 'bus-1'
let practice: PracticeHost
const rejections: unknown[] = []
const note = (cause: unknown) => rejections.push(cause)

beforeEach(async () => {
  process.on('unhandledRejection', note)
  practice = await startPracticeHost({ line: 'pty' })
})
afterEach(async () => {
  await practice.close()
  process.off('unhandledRejection', note)
  expect(rejections.splice(0)).toEqual([])
})

const seen = <T extends TopicName>(topic: T, key: string, wanted: (v: TopicValue<T>) => boolean) =>
  topicSeen(practice.host, topic, key, wanted)

const adapter = async (connected: boolean) => value(await practice.host.call('practice.cable', { of: { adapterOf: busId }, connected }))

describe.runIf(process.platform === 'linux')('an adapter pulled out of the computer', () => {
  it('in the middle of polling takes the bus down with a sentence, and put back it goes on by itself', async () => {
    await seen('live', 'wt-101', (v) => v.state === 'fresh')
    for (let times = 0; times < 3; times++) {
      await adapter(false)
      const down = await seen('bus', busId, (v) => v.state === 'down')
      expect(down.why).toMatch(/ is gone\. Was the adapter pulled out\?|^There is no port /)
      const stale = await seen('live', 'wt-101', (v) => v.state === 'stale')
      expect(stale).toMatchObject({ because: { kind: 'link-down' } })
      await adapter(true)
      await seen('bus', busId, (v) => v.state === 'open')
      await seen('live', 'wt-101', (v) => v.state === 'fresh')
      await seen('live', 'wt-102', (v) => v.state === 'fresh')
    }
  })

  it('is noticed on a line that is only listened to', async () => {
    await practice.host.close()
    const host = openHostOn(practice.bench, practice.jobPath)
    value(await host.call('bus.listen', { busId, seconds: 120 }))
    await practice.bench.pullAdapter('line-1')
    const heard = await new Promise<TopicValue<'heard'>>((resolve) => {
      host.topics.subscribe((m) => {
        const view = m.kind === 'topic' && m.topic === 'heard' ? (m.value as TopicValue<'heard'>) : null
        if (view?.state === 'ended') resolve(view)
      })
    })
    expect(heard.says).toContain('The line was lost')
    await host.close()
  })

  it('in the middle of a write says for each parameter what is known, and the write is restored once it is back', async () => {
    const indicatorId = 'ind-1'
    const revision = () => practice.host.topics.get('job')?.revision ?? 0
    const before = practice.bench.settings(indicatorId)
    const values = { 'filter.time@1': '0.50', 'reading.interval@1': '0.5' }
    value(await practice.host.call('point.intend', { pointId: 'wt-101', revision: revision(), values }))
    const preview = value(await practice.host.call('settings.preview', { indicatorId }))
    // The answer to the second write is held back, so that the adapter is out before it comes.
    const pulling = seen('indicator', indicatorId, (v) => v.writing?.step === 'writing' && v.writing.done === 1).then(async () => {
      practice.bench.inject(indicatorId, { kind: 'late', byMs: 200, times: 1 })
      await adapter(false)
    })
    const written = await practice.host.call('settings.write', { previewId: preview.previewId })
    await pulling
    expect(written).toMatchObject({ ok: false, failure: { kind: 'failed', because: { kind: 'link-down' }, end: 'not-restored' } })
    const parameters = !written.ok && written.failure.kind === 'failed' ? written.failure.parameters : []
    expect(parameters.map(({ key, now }) => [key, now])).toEqual([
      ['filter.time@1', 'unknown'],
      ['reading.interval@1', 'unknown'],
    ])
    const open = practice.host.topics.get('indicator', indicatorId)?.openWrite
    expect(open?.wanted.map((w) => [w.key, w.held, w.intended])).toEqual([
      ['filter.time@1', '0.20', '0.50'],
      ['reading.interval@1', '0.2', '0.5'],
    ])

    await adapter(true)
    await seen('bus', busId, (v) => v.state === 'open')
    value(await practice.host.call('journal.resolve', { indicatorId, journalId: open?.journalId ?? '', how: 'restore' }))
    expect(practice.bench.settings(indicatorId)).toEqual(before)
    expect(practice.bench.saved(indicatorId)).toEqual(before)
    expect(practice.host.topics.get('indicator', indicatorId)?.openWrite).toBeNull()
  })
})
