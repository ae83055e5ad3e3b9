import type { Profile } from '../../app/profile/schema.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { type Bench, type BenchAddress, type BenchLink, startBench } from '../../simulator/index.ts'

export type SingleBench = { bench: Bench; address: BenchAddress; setLoad(channel: number, load: number): void }

export const benchLinks = ['pty', 'rtu-over-tcp', 'modbus-tcp'] as const
type LinkKind = (typeof benchLinks)[number]

const bus = 'bus'
const indicator = 'indicator'

/** One simulated indicator of a profile, with one invented 1000 kg sensor of 2 mV/V on each channel. Fails with a sentence. */
export async function startSingleBench(options: {
  profile: Profile
  link: LinkKind
  unit: number
  port: number
  seed: number
}): Promise<Result<SingleBench, string>> {
  const { profile, unit, port, seed } = options
  const sensors = [{ capacity: 1000, ratedOutputMvPerV: 2, zeroMvPerV: 0.01 }]
  const points = Array.from({ length: profile.channels }, (_, i) => ({
    channel: i + 1,
    unit: 'kg',
    sensors,
    deadLoad: 0,
    noiseMicrovolt: 0.15,
  }))
  const bits = profile.serial?.parity === 'none' && profile.serial.stopBits === 1 ? 10 : 11
  const link: BenchLink =
    options.link === 'pty' ? { kind: 'pty', baud: profile.serial?.baud ?? 19_200, bitsPerCharacter: bits } : { kind: options.link, port }
  try {
    const bench = await startBench({
      seed,
      buses: [{ key: bus, link, indicators: [{ key: indicator, unit, profile, words: {}, points }] }],
    })
    return ok({ bench, address: bench.addressOf(bus), setLoad: (channel, load) => bench.setLoad(indicator, channel, load) })
  } catch (cause) {
    return fail(cause instanceof Error ? cause.message : String(cause))
  }
}
