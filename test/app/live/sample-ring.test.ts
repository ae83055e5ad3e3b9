import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type SampleQuantity, SampleRing } from '../../../app/live/sample-ring.ts'

const filled = (capacity: number, count: number) => {
  const ring = new SampleRing(capacity)
  for (let i = 0; i < count; i += 1) ring.push(i * 10, i, -i)
  return ring
}
const times = (ring: SampleRing, from: number, to: number) => ring.between(from, to, 'reading').flatMap((p) => [...p.at])
const values = (ring: SampleRing, from: number, to: number, quantity: SampleQuantity) =>
  ring.between(from, to, quantity).flatMap((p) => [...p.value])

describe('SampleRing', () => {
  it('gives what it holds, oldest first', () => {
    expect(times(filled(8, 3), 0, 1e9)).toEqual([0, 10, 20])
    expect(values(filled(8, 3), 0, 1e9, 'signal')).toEqual([-0, -1, -2])
  })

  it('drops the oldest once it is full', () => {
    const ring = filled(4, 7)
    expect(ring.length).toBe(4)
    expect(values(ring, 0, 1e9, 'signal')).toEqual([-3, -4, -5, -6])
  })

  it('gives what lies between two times, both included, whatever its size and how far it has run over', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 40 }),
        fc.integer({ min: 0, max: 100 }),
        fc.integer({ min: -20, max: 1_020 }),
        fc.nat(1_000),
        (capacity, count, from, width) => {
          const held = Array.from({ length: count }, (_, i) => i * 10).slice(-capacity)
          expect(times(filled(capacity, count), from, from + width)).toEqual(held.filter((t) => t >= from && t <= from + width))
        },
      ),
    )
  })

  it('grows as samples come, without losing one or their order', () => {
    const ring = filled(9_000, 8_000)
    expect(ring.length).toBe(8_000)
    expect(values(ring, 0, 1e9, 'reading')).toEqual(Array.from({ length: 8_000 }, (_, i) => i))
    const over = filled(5_000, 12_345)
    expect(values(over, 0, 1e9, 'reading')).toEqual(Array.from({ length: 5_000 }, (_, i) => 7_345 + i))
  })

  it('finds the sample nearest in time', () => {
    const ring = filled(4, 7)
    expect(ring.nearest(44, 'reading')).toEqual({ at: 40, value: 4 })
    expect(ring.nearest(46, 'reading')).toEqual({ at: 50, value: 5 })
    expect(ring.nearest(-500, 'reading')).toEqual({ at: 30, value: 3 })
    expect(ring.nearest(500, 'signal')).toEqual({ at: 60, value: -6 })
    expect(new SampleRing(4).nearest(0, 'reading')).toBeUndefined()
  })

  it('knows its newest and oldest sample, and that there is none before the first', () => {
    expect([filled(4, 7).newest, filled(4, 7).oldest]).toEqual([60, 30])
    expect(new SampleRing(4).newest).toBeNaN()
    expect(new SampleRing(4).oldest).toBeNaN()
  })
})
