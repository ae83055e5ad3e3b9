import { readFileSync } from 'node:fs'
import { type Profile, profile as profileSchema } from '../../../app/profile/schema.ts'
import type { BenchIndicator } from '../../../simulator/index.ts'
import { serve } from '../../../simulator/modbus/serve.ts'
import { startIndicator } from '../../../simulator/unit/indicator.ts'
import { bytes, hex } from '../bytes.ts'

export const lockedProfile: Profile = profileSchema.parse(
  JSON.parse(readFileSync(new URL('../../../app/profiles/two-pairs-float32-locked.profile.json', import.meta.url), 'utf8')),
)

/** One cell of 1000 kg and 2 mV/V, scaled right: 0 kg at 0 mV/V, 1000 kg at 2 mV/V in steps of 0.5 kg; range 2 mV/V, no filter. */
export const lockedIndicator: BenchIndicator = {
  key: 'scale',
  unit: 1,
  profile: lockedProfile,
  words: {
    'input.range@1': [1],
    'excitation.voltage@1': [1],
    'reading.decimals@1': [1],
    'reading.interval@1': [0x3f00, 0],
    'scale.upper.signal@1': [0x4000, 0],
    'scale.upper.reading@1': [0x447a, 0],
  },
  points: [{ channel: 1, unit: 'kg', sensors: [{ capacity: 1000, ratedOutputMvPerV: 2, zeroMvPerV: 0 }], deadLoad: 0, noiseMicrovolt: 0 }],
}

/** The indicator with a clock that stands until it is moved; `ask` takes and gives a PDU in hexadecimal. */
export const startLocked = (given: Partial<BenchIndicator> = {}) => {
  let now = 0
  const indicator = startIndicator({ ...lockedIndicator, ...given }, 1, () => now)
  return {
    indicator,
    ask: (request: string) => hex(serve(indicator.bank, bytes(request))),
    wait(ms: number) {
      now += ms
    },
    load: (load: number) => indicator.channels[0]?.setLoad(load, now),
  }
}

export const unlock = '10 00 C8 00 01 02 5A A5'
export const save = '10 00 C9 00 01 02 00 01'
/** Upper signal 1.0 mV/V. */
export const writeUpperSignal = '10 00 72 00 02 04 3F 80 00 00'
export const accepted = '10 00 72 00 02'
