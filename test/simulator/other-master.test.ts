import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { serveRtu } from '../../simulator/line.ts'
import { startOtherMaster } from '../../simulator/other-master.ts'
import { startStation } from '../../simulator/station.ts'
import { bytes, hex } from './bytes.ts'
import { memoryWire } from './memory-wire.ts'
import { lockedIndicator, lockedProfile } from './unit/locked-indicator.ts'

beforeEach(() => void vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] }))
afterEach(() => void vi.useRealTimers())

describe('another master', () => {
  const follow = (everyMs: number, takesMs: number) => {
    const heard: string[] = []
    const answers: string[] = []
    const master = startOtherMaster({ unit: 9, everyMs }, [], undefined, ({ request, answer }) => {
      heard.push(`${performance.now()}: ${hex(request)}`)
      answers.push(hex(answer ?? []))
      return takesMs
    })
    return { heard, answers, master }
  }

  // CRCs of this file were computed with an independent program (regression check).
  it('that polls every ten seconds asks then, and an imagined unit answers with a counting number', () => {
    const start = performance.now()
    const { heard, answers, master } = follow(10_000, 20)
    vi.advanceTimersByTime(25_000)
    master.close()
    vi.advanceTimersByTime(25_000)
    expect(heard).toEqual([start + 10_000, start + 20_000].map((at) => `${at}: 09 03 00 00 00 02 C5 43`))
    expect(answers).toEqual(['09 03 04 00 00 00 01 B2 33', '09 03 04 00 00 00 02 F2 32'])
  })

  it('that polls quickly waits for the end of its own exchange', () => {
    const { heard, master } = follow(1, 50)
    vi.advanceTimersByTime(160)
    master.close()
    // At 1, 51, 101 and 151 ms.
    expect(heard).toHaveLength(4)
  })

  it('is heard by a unit of the bench, which counts its request', () => {
    const station = startStation(lockedIndicator, 1, () => 0)
    const answers: string[] = []
    const master = startOtherMaster({ unit: 1, everyMs: 10 }, [station], undefined, ({ answer }) => {
      answers.push(hex(answer ?? []))
      return 5
    })
    vi.advanceTimersByTime(10)
    master.close()
    expect(answers).toEqual(['01 03 04 51 51 00 00 BB 1E'])
    expect(station.requests().count).toBe(1)
  })
})

describe('a request that comes while another exchange is on the line', () => {
  it('collides with it; the next one is heard', () => {
    const { wire, said, put } = memoryWire()
    const pdu = bytes('03 02 51 51')
    const line = serveRtu(wire, [{ unit: 1, hear: () => ({ pdu, fault: undefined, delayMs: 0 }) }], () => true, {
      characterMs: 1,
      silenceMs: 5,
    })
    const takesMs = line.overhear({
      request: bytes('09 03 00 00 00 02 C5 43'),
      answer: bytes('09 83 02'),
      format: undefined,
      sent: undefined,
    })
    vi.advanceTimersByTime(takesMs - 1)
    put('01 03 00 00 00 01 84 0A')
    vi.advanceTimersByTime(100)
    expect(said.join(' ')).toBe('09 03 00 00 00 02 C5 43 09 83 02')
    put('01 03 00 00 00 01 84 0A')
    vi.advanceTimersByTime(100)
    expect(said.slice(11).join(' ')).toBe('01 03 02 51 51 44 28')
    line.close()
  })
})

describe('a unit that needs a pause after its answer', () => {
  const start = (pauseMs: number) => {
    const profile = { ...lockedProfile, requests: { ...lockedProfile.requests, pauseMs } }
    return startStation({ ...lockedIndicator, profile }, 1, () => 0)
  }
  const question = bytes('03 00 00 00 01')

  it('misses a request that comes within half of it, and hears one that comes later', () => {
    const station = start(50)
    station.hear(question, false)?.sent?.()
    vi.advanceTimersByTime(24)
    expect(station.hear(question, false)).toBe(undefined)
    expect(station.requests().count).toBe(1)
    vi.advanceTimersByTime(1)
    expect(station.hear(question, false)).toBeDefined()
  })

  it('counts the pause from the last byte of its answer on the line', () => {
    const station = start(10_000)
    const { wire, said, put } = memoryWire()
    const line = serveRtu(wire, [station], () => true, { characterMs: 0, silenceMs: 5 })
    put('01 03 00 00 00 01 84 0A')
    vi.advanceTimersByTime(2)
    put('01 03 00 00 00 01 84 0A')
    vi.advanceTimersByTime(4999)
    expect(said).toEqual(['01 03 02 51 51 44 28'])
    vi.advanceTimersByTime(1)
    put('01 03 00 00 00 01 84 0A')
    vi.advanceTimersByTime(2)
    expect(said).toHaveLength(2)
    line.close()
  })
})
