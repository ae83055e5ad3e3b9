import { describe, expect, it } from 'vitest'
import { SampleRing } from '../../../renderer/state/sample-ring.ts'

const filled = (capacity: number, count: number) => {
  const ring = new SampleRing(capacity)
  for (let i = 0; i < count; i += 1) ring.push(i * 10, i, -i)
  return ring
}

describe('SampleRing', () => {
  it('gives what it holds, oldest first', () => {
    const { at, value } = filled(8, 3).since(0, 'reading')

    expect([...at]).toEqual([0, 10, 20])
    expect([...value]).toEqual([0, 1, 2])
  })

  it('drops the oldest once it is full', () => {
    const ring = filled(4, 7)

    expect(ring.length).toBe(4)
    expect([...ring.since(0, 'signal').value]).toEqual([-3, -4, -5, -6])
  })

  it('leaves out what is older than asked for', () => {
    expect([...filled(4, 7).since(50, 'reading').at]).toEqual([50, 60])
  })

  it('knows its newest sample, and that there is none before the first', () => {
    expect(filled(4, 7).newest).toBe(60)
    expect(new SampleRing(4).newest).toBeNaN()
  })
})
