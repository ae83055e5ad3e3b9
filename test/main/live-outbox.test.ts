import { describe, expect, it } from 'vitest'
import type { HostMessage } from '../../app/contract/contract.ts'
import { type CurveSample, decodeSamples } from '../../app/contract/sample-batch.ts'
import { createLiveOutbox, thinned } from '../../main/live-outbox.ts'

const sample = (at: number, reading = at, pointId = 'wt-101'): CurveSample => ({ pointId, unit: 'kg', at, reading, signal: reading / 10 })
const view = (of: number): HostMessage => ({ kind: 'topic', topic: 'live', key: 'wt-101', value: of })

function open() {
  const sent: HostMessage[] = []
  const outbox = createLiveOutbox((message) => sent.push(message))
  const batches = () =>
    sent.flatMap((m) => {
      const read = m.kind === 'samples' ? decodeSamples(m.bytes) : undefined
      return read?.ok ? [read.value] : []
    })
  const views = () => sent.flatMap((m) => (m.kind === 'topic' ? [m.value] : []))
  return { outbox, batches, views }
}

describe('live values on their way to a page', () => {
  it('go at once while the page keeps up', () => {
    const { outbox, batches } = open()
    for (let i = 1; i <= 50; i += 1) {
      outbox.samples([sample(i)])
      outbox.taken(i)
    }
    expect(batches().map((b) => b.samples[0]?.at)).toEqual(Array.from({ length: 50 }, (_, i) => i + 1))
  })

  it('wait for a page that is busy: few batches, the newest view, and every sample later in one batch', () => {
    const { outbox, batches, views } = open()
    for (let i = 1; i <= 20; i += 1) {
      outbox.samples([sample(i)])
      outbox.view('wt-101', view(i))
    }
    expect(batches()).toHaveLength(4)
    expect(views()).toEqual([1, 2, 3])

    outbox.taken(1)

    expect(views()).toEqual([1, 2, 3, 20])
    expect(
      batches()
        .at(-1)
        ?.samples.map((s) => s.at),
    ).toEqual(Array.from({ length: 16 }, (_, i) => i + 5))
  })

  it('begin with those of an earlier time, in pieces as the page takes them, and lose none that come meanwhile', () => {
    const { outbox, batches } = open()
    outbox.recall(Array.from({ length: 50_000 }, (_, i) => sample(i)))
    expect(batches().map((b) => b.samples.length)).toEqual([8_000, 8_000, 8_000, 8_000])
    outbox.samples([sample(50_000)])
    for (let i = 1; i <= 8; i += 1) outbox.taken(i)
    expect(batches().flatMap((b) => b.samples.map((s) => s.at))).toEqual(Array.from({ length: 50_001 }, (_, i) => i))
  })

  it('are not let loose by a number that was never sent', () => {
    const { outbox, batches } = open()
    for (let i = 1; i <= 9; i += 1) outbox.samples([sample(i)])
    outbox.taken(40)
    outbox.taken(0)
    expect(batches()).toHaveLength(4)
  })

  it('stay bounded for a page that has stopped, and keep every spike', () => {
    const { outbox, batches } = open()
    const spikes = [60_001, 75_003, 99_990]
    for (let i = 0; i < 100_000; i += 1) outbox.samples([sample(i, spikes.includes(i) ? 1e6 + i : i % 100)])
    outbox.taken(4)
    const last = batches().at(-1)?.samples ?? []
    expect(last.length).toBeLessThanOrEqual(8_000)
    expect(last.map((s) => s.reading).filter((r) => r >= 1e6)).toEqual(spikes.map((i) => 1e6 + i))
    expect(last.map((s) => s.at)).toEqual(last.map((s) => s.at).toSorted((a, b) => a - b))
  })
})

describe('thinning', () => {
  it('keeps at most half, a gap among them, and each point for itself', () => {
    const samples = Array.from({ length: 100 }, (_, i) => sample(i, i === 37 ? Number.NaN : i, i % 2 ? 'a' : 'b'))
    const kept = thinned(samples)
    expect(kept.length).toBeLessThanOrEqual(50)
    expect(kept.some((s) => s.at === 37)).toBe(true)
    for (const id of ['a', 'b']) expect(kept.filter((s) => s.pointId === id).at(-1)?.at).toBe(id === 'a' ? 99 : 98)
  })
})
