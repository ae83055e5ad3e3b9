import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { planReads } from '../../../app/profile/plan-reads.ts'
import { type Register, register } from '../../../app/profile/schema.ts'
import { wordCount } from '../../../app/profile/words.ts'

const at = (address: number, type: Register['type'] = 'u16', table: Register['table'] = 'holding'): Register =>
  register.parse({
    name: `x.r${address}`,
    table,
    address,
    type,
    order: type === 'u16' ? 'AB' : 'ABCD',
    access: 'read',
    role: 'setting',
    kept: 'at-once',
    evidence: 'invented',
  })

describe('planning of reads', () => {
  it('reads neighbours together, reads over small gaps and splits at large ones', () => {
    const blocks = planReads([at(0), at(1), at(5, 'f32'), at(40)], { longestRead: 60, readOver: 8 })
    expect(blocks.map((b) => [b.address, b.count])).toEqual([
      [0, 7],
      [40, 1],
    ])
  })

  it('never mixes tables', () => {
    expect(planReads([at(0), at(1, 'u16', 'input')], { longestRead: 60, readOver: 8 })).toHaveLength(2)
  })

  it('brings every register whole, inside the longest read, whatever the map looks like', () => {
    const maps = fc.uniqueArray(fc.integer({ min: 0, max: 400 }), { minLength: 1, maxLength: 60 })
    fc.assert(
      fc.property(maps, fc.integer({ min: 2, max: 125 }), fc.integer({ min: 0, max: 20 }), (addresses, longestRead, readOver) => {
        const registers = addresses.map((a) => at(a * 2, a % 2 ? 'f32' : 'u16'))
        const blocks = planReads(registers, { longestRead, readOver })
        expect(blocks.flatMap((b) => b.registers)).toHaveLength(registers.length)
        for (const b of blocks) {
          expect(b.count).toBeLessThanOrEqual(longestRead)
          for (const r of b.registers) {
            expect(r.address).toBeGreaterThanOrEqual(b.address)
            expect(r.address + wordCount(r.type)).toBeLessThanOrEqual(b.address + b.count)
          }
        }
      }),
    )
  })
})
