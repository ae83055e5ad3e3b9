import { describe, expect, it } from 'vitest'
import { planWithMeaning, withHolders } from '../../../app/profile/meaning.ts'
import { planReads } from '../../../app/profile/plan-reads.ts'
import { type Profile, type Register, registerKey } from '../../../app/profile/schema.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'

const moving = bundledProfiles.get('two-pairs-moving-decimals')!
const four = bundledProfiles.get('two-pairs-four-channels')!
const counts = bundledProfiles.get('counts-millivolt-input')!

const named = (p: Profile, ...keys: string[]): Register[] => keys.map((key) => p.registers.find((r) => registerKey(r) === key)!)
const within = (p: Profile, requests: Partial<Profile['requests']>): Profile => ({ ...p, requests: { ...p.requests, ...requests } })
const shape = (blocks: ReturnType<typeof planReads>) => blocks.map((b) => [b.table, b.address, b.count])

describe('registers that change the meaning of others', () => {
  // reading.decimals at 16, reading.unit at 17, setpoint.2.value at 30 and 31.
  it('come in the same request, though nobody asked for them', () => {
    const blocks = planWithMeaning(within(moving, { readOver: 20 }), named(moving, 'setpoint.2.value@1'))
    expect(shape(blocks)).toEqual([['holding', 16, 16]])
    expect(blocks[0]!.registers.map(registerKey).sort()).toEqual(['reading.decimals@1', 'reading.unit@1', 'setpoint.2.value@1'])
  })

  it('stay away where the gap between must not be read', () => {
    expect(shape(planWithMeaning(within(moving, { readOver: 3 }), named(moving, 'setpoint.2.value@1')))).toEqual([['holding', 30, 2]])
  })

  it('stay away where one request is too short', () => {
    expect(shape(planWithMeaning(within(moving, { readOver: 20, longestRead: 14 }), named(moving, 'setpoint.2.value@1')))).toEqual([
      ['holding', 30, 2],
    ])
  })

  it('stay together where filling requests from the lowest address would cut them apart', () => {
    const requests = { readOver: 12, longestRead: 16 }
    const wanted = named(moving, 'identity.serial', 'reading.decimals@1', 'reading.unit@1', 'scale.lower.reading@1')
    expect(shape(planReads(wanted, requests))).toEqual([
      ['holding', 2, 16],
      ['holding', 21, 2],
    ])
    expect(shape(planWithMeaning(within(moving, requests), wanted))).toEqual([
      ['holding', 2, 2],
      ['holding', 16, 7],
    ])
  })

  it('of another table are not read along; asked for, they are those of the same channel', () => {
    const reading = named(four, 'live.reading@3')
    expect(shape(planWithMeaning(four, reading))).toEqual([['input', 21, 2]])
    expect(withHolders(four, reading).map(registerKey)).toEqual(['live.reading@3', 'reading.decimals@3', 'reading.unit@3'])
  })
})

describe('coils and discrete inputs', () => {
  it('are counted in bits, sixteen to a word of the longest read', () => {
    const coils = named(counts, 'control.zero@1', 'control.clear-tare@1', 'control.restart')
    expect(shape(planReads(coils, { longestRead: 1, readOver: 10 }))).toEqual([['coil', 0, 10]])
    const far = coils.map((r, i) => ({ ...r, address: i * 8 }))
    expect(shape(planReads(far, { longestRead: 1, readOver: 10 }))).toEqual([
      ['coil', 0, 9],
      ['coil', 16, 1],
    ])
  })

  it('never go into one request with each other', () => {
    const both = named(counts, 'control.zero@1', 'live.motion@1')
    expect(shape(planReads(both, counts.requests))).toEqual([
      ['coil', 0, 1],
      ['discrete', 0, 1],
    ])
  })
})
