import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { transmitter } from '../../../simulator/wire/transmitter.ts'

describe('bytes on the wire', () => {
  beforeEach(() => void vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] }))
  afterEach(() => void vi.useRealTimers())

  const start = (characterMs: number) => {
    const written: number[] = []
    const sender = transmitter((data) => void written.push(...data), characterMs)
    return { written, sender, pass: (ms: number) => void vi.advanceTimersByTime(ms) }
  }

  it('leave one character time apart, none before its time', () => {
    const { written, sender, pass } = start(10)
    sender.send(Uint8Array.of(1, 2, 3), 0)
    pass(9)
    expect(written).toEqual([])
    pass(1)
    expect(written).toEqual([1])
    pass(19)
    expect(written).toEqual([1, 2])
    pass(1)
    expect(written).toEqual([1, 2, 3])
  })

  it('take no longer for a whole frame at 19 200 baud and 11 bits than the line would, and one timer step', () => {
    const { written, sender, pass } = start(11_000 / 19_200)
    sender.send(new Uint8Array(25), 0)
    pass(14)
    expect(written.length).toBeLessThan(25)
    pass(2)
    expect(written).toHaveLength(25)
  })

  it('wait behind those under way', () => {
    const { written, sender, pass } = start(10)
    sender.send(Uint8Array.of(1, 2), 0)
    sender.send(Uint8Array.of(3), 5)
    pass(20)
    expect(written).toEqual([1, 2])
    pass(10)
    expect(written).toEqual([1, 2, 3])
  })

  it('sent late are overtaken by others', () => {
    const { written, sender, pass } = start(0)
    sender.send(Uint8Array.of(1), 100)
    sender.send(Uint8Array.of(2), 0)
    pass(100)
    expect(written).toEqual([2, 1])
  })

  it('stay away once it is closed', () => {
    const { written, sender, pass } = start(10)
    sender.send(Uint8Array.of(1, 2), 0)
    pass(10)
    sender.close()
    pass(100)
    expect(written).toEqual([1])
  })
})
