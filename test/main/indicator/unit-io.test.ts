import { expect, it } from 'vitest'
import { registerKey } from '../../../app/profile/schema.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import type { Request } from '../../../main/bus/request.ts'
import { unitIo } from '../../../main/indicator/unit-io.ts'

it('settings of one word travel in one request, and each is told as sent', async () => {
  const profile = bundledProfiles.get('capacity-rated-output-function-06')!
  const requests: Request[] = []
  const port = {
    request: async (_unit: number, request: Request) => {
      requests.push(request)
      return { ok: true as const, value: { kind: 'done' as const, at: 0, tookMs: 0 } }
    },
  }
  const io = unitIo(port, 1, profile, async () => {})
  const sent: string[][] = []
  const writes = ['input.range@1', 'filter.time@1', 'scale.capacity@1'].map((key) => {
    const register = profile.registers.find((r) => registerKey(r) === key)!
    return { register, words: register.address === 4 ? [0x4f6] : [500] }
  })
  expect(await io.write(writes, (keys) => sent.push(keys))).toEqual({ ok: true, value: null })
  expect(requests).toEqual([
    { kind: 'write-register', address: 4, word: 0x4f6 },
    { kind: 'write-register', address: 5, word: 500 },
  ])
  expect(sent).toEqual([['input.range@1', 'filter.time@1'], ['scale.capacity@1']])
})
