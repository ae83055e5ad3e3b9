import { expect, it } from 'vitest'
import { registerKey } from '../../../app/profile/schema.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import type { Request } from '../../../main/bus/request.ts'
import { unitIo } from '../../../main/indicator/unit-io.ts'

/** A port that takes every write, and what it was asked. */
function willingPort() {
  const requests: Request[] = []
  const request = async (_unit: number, asked: Request) => {
    requests.push(asked)
    return { ok: true as const, value: { kind: 'done' as const, at: 0, tookMs: 0 } }
  }
  return { port: { request }, requests }
}

it('settings of one word travel in one request, and each is told as sent', async () => {
  const profile = bundledProfiles.get('capacity-rated-output-function-06')!
  const { port, requests } = willingPort()
  const io = unitIo(port, 1, profile, async () => {})
  const sent: string[][] = []
  const writes = ['input.range@1', 'filter.time@1', 'scale.capacity@1'].map((key) => {
    const register = profile.registers.find((r) => registerKey(r) === key)!
    return { register, words: register.address === 4 ? [0x4f6] : [500] }
  })
  const tell = (keys: string[]) => {
    sent.push(keys)
    return { ok: true as const, value: null }
  }
  expect(await io.write(writes, tell)).toEqual({ ok: true, value: null })
  expect(requests).toEqual([
    { kind: 'write-register', address: 4, word: 0x4f6 },
    { kind: 'write-register', address: 5, word: 500 },
  ])
  expect(sent).toEqual([['input.range@1', 'filter.time@1'], ['scale.capacity@1']])
})

it('a request that may not leave does not, nor any after it', async () => {
  const profile = bundledProfiles.get('two-pairs-bus-in-registers')!
  const { port, requests } = willingPort()
  const io = unitIo(port, 1, profile, async () => {})
  const register = profile.registers.find((r) => r.name === 'bus.address')!
  expect(await io.write([{ register, words: [7] }], () => ({ ok: false, failure: 'the disk is full' }))).toEqual({
    ok: false,
    failure: 'the disk is full',
  })
  expect(requests).toEqual([])
})

it('fields of one word are changed by mask where the profile says so, and the other bits left alone', async () => {
  const profile = bundledProfiles.get('two-pairs-bus-in-registers')!
  const { port, requests } = willingPort()
  const io = unitIo(port, 1, profile, async () => {})
  const named = (name: string) => profile.registers.find((r) => r.name === name)!
  // Rate in bits 0 to 3, parity in bits 4 and 5: 0x23 is 57600 and odd.
  await io.write([
    { register: named('bus.address'), words: [7] },
    { register: named('bus.baud'), words: [0xff23] },
    { register: named('bus.parity'), words: [0xff23] },
  ])
  await io.write([{ register: named('bus.parity'), words: [0xff23] }])
  expect(requests).toEqual([
    { kind: 'write-register', address: 10, word: 7 },
    { kind: 'mask-write', address: 11, and: 0xffc0, or: 0x23 },
    { kind: 'mask-write', address: 11, and: 0xffcf, or: 0x20 },
  ])
})
