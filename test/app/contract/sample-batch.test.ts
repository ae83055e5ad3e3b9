import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { decodeSamples, encodeSamples } from '../../../app/contract/sample-batch.ts'

const sample = fc.record({
  pointId: fc.string({ minLength: 1, maxLength: 12 }),
  unit: fc.string({ maxLength: 4 }),
  at: fc.double(),
  reading: fc.double(),
  signal: fc.double(),
})

describe('a batch of live samples', () => {
  it('is read back as it was, whatever ids and numbers', () => {
    fc.assert(
      fc.property(fc.nat(), fc.array(sample, { maxLength: 40 }), (batch, samples) => {
        expect(decodeSamples(encodeSamples(batch, samples))).toEqual({ ok: true, value: { batch, samples } })
      }),
    )
  })

  it('is refused when bytes are missing, left over or altered in number, and never throws', () => {
    const whole = encodeSamples(3, [
      { pointId: 'wt-101', unit: 'kg', at: 0, reading: 1, signal: 2 },
      { pointId: 'pt-7', unit: '', at: 50, reading: 3, signal: 4 },
    ])
    for (let length = 0; length < whole.length; length += 1) expect(decodeSamples(whole.subarray(0, length)).ok).toBe(false)
    expect(decodeSamples(new Uint8Array([...whole, 0])).ok).toBe(false)
  })

  it('is refused when it is of another form, or names a point that it does not list', () => {
    const other = encodeSamples(1, [])
    other[0] = 1
    expect(decodeSamples(other)).toMatchObject({ ok: false, failure: expect.stringContaining('form 1') })
    const strange = encodeSamples(1, [{ pointId: 'a', unit: 'kg', at: 0, reading: 1, signal: 2 }])
    strange[strange.length - 26] = 9
    expect(decodeSamples(strange)).toMatchObject({ ok: false, failure: expect.stringContaining('no point') })
  })
})
