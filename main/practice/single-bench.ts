import type { Profile } from '../../app/profile/schema.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { type Bench, type BenchAddress, type BenchLink, startBench } from '../../simulator/index.ts'
import { type SingleSensor, scaledStart, singleSensors } from './scaled-start.ts'

export type SingleBench = {
  bench: Bench
  address: BenchAddress
  sensor: SingleSensor
  /** Why it starts as delivered where it was to start scaled; null where it does as asked. */
  unscaledWhy: string | null
  setLoad(channel: number, load: number): void
}

export const benchLinks = ['pty', 'rtu-over-tcp', 'modbus-tcp'] as const
type LinkKind = (typeof benchLinks)[number]

const bus = 'bus'
const indicator = 'indicator'

/** One simulated indicator of a profile, with one invented sensor of 2 mV/V on each channel. Fails with a sentence. */
export async function startSingleBench(options: {
  profile: Profile
  link: LinkKind
  unit: number
  port: number
  seed: number
  /** With whatever its memory holds before anybody scaled it. */
  asDelivered: boolean
}): Promise<Result<SingleBench, string>> {
  const { profile, unit, port, seed, asDelivered } = options
  const scaled = scaledStart(profile)
  const { sensor, words } = scaled.ok ? scaled.value : { sensor: singleSensors[0], words: {} }
  const points = Array.from({ length: profile.channels }, (_, i) => ({
    channel: i + 1,
    unit: sensor.unit,
    sensors: [sensor],
    deadLoad: 0,
    noiseMicrovolt: 0.15,
  }))
  const bits = profile.serial?.parity === 'none' && profile.serial.stopBits === 1 ? 10 : 11
  const link: BenchLink =
    options.link === 'pty' ? { kind: 'pty', baud: profile.serial?.baud ?? 19_200, bitsPerCharacter: bits } : { kind: options.link, port }
  try {
    const bench = await startBench({
      seed,
      buses: [{ key: bus, link, indicators: [{ key: indicator, unit, profile, words: asDelivered ? {} : words, points }] }],
    })
    return ok({
      bench,
      address: bench.addressOf(bus),
      sensor,
      unscaledWhy: asDelivered || scaled.ok ? null : scaled.failure,
      setLoad: (channel, load) => bench.setLoad(indicator, channel, load),
    })
  } catch (cause) {
    return fail(cause instanceof Error ? cause.message : String(cause))
  }
}
