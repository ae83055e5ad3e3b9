import { readFileSync } from 'node:fs'
import { type Profile, profile as profileSchema } from '../../../app/profile/schema.ts'
import type { BenchIndicator, BenchPoint } from '../../../simulator/index.ts'
import { serve } from '../../../simulator/modbus/serve.ts'
import { startIndicator } from '../../../simulator/unit/indicator.ts'
import { bytes, hex } from '../bytes.ts'

export const bundledProfile = (id: string): Profile =>
  profileSchema.parse(JSON.parse(readFileSync(new URL(`../../../app/profiles/${id}.profile.json`, import.meta.url), 'utf8')))

/** One cell of 1000 kg and 2 mV/V, without zero output, structure or noise: 500 kg give 1 mV/V. */
export const plainPoint: BenchPoint = {
  channel: 1,
  unit: 'kg',
  sensors: [{ capacity: 1000, ratedOutputMvPerV: 2, zeroMvPerV: 0 }],
  deadLoad: 0,
  noiseMicrovolt: 0,
}

/** A bundled model with a clock that stands until it is moved; `ask` takes and gives a PDU in hexadecimal. */
export const startBundled = (
  id: string,
  words: BenchIndicator['words'],
  points: readonly Partial<BenchPoint>[] = [{}],
  change: (profile: Profile) => Profile = (profile) => profile,
) => {
  let now = 0
  const given = { key: 'unit', unit: 1, profile: change(bundledProfile(id)), words, points: points.map((p) => ({ ...plainPoint, ...p })) }
  const indicator = startIndicator(given, 1, () => now)
  const channel = (number: number) => {
    const found = indicator.channels.find((c) => c.number === number)
    if (!found) throw new RangeError(`no channel ${number}`)
    return found
  }
  return {
    indicator,
    ask: (request: string) => hex(serve(indicator.bank, bytes(request))),
    wait(ms: number) {
      now += ms
    },
    /** Applies a load and waits until no filter shows what was before. */
    settle(load: number, number = 1) {
      channel(number).setLoad(load, now)
      now += 20_000
    },
    shown: (number = 1) => indicator.shown(channel(number)),
    unitShown: (number = 1) => channel(number).unitShown(),
  }
}
