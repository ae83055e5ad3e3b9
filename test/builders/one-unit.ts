import type { Profile } from '../../app/profile/schema.ts'
import { openBus } from '../../main/bus/open-bus.ts'
import { nodeClock } from '../../main/host/node-clock.ts'
import { type UnitIo, unitIo } from '../../main/indicator/unit-io.ts'
import { type Bench, startBench } from '../../simulator/index.ts'

export type OneUnit = { bench: Bench; io: UnitIo; pass(seconds: number): void; close(): Promise<void> }

/** `pass` lets time go by for its physics only. One simulated indicator with a 1000 kg sensor of 2 mV/V on channel 1, called `indicator` on its bench, and the host's way to it. */
export async function startOneUnit(profile: Profile, words: Record<string, number[]>): Promise<OneUnit> {
  const sensors = [{ capacity: 1000, ratedOutputMvPerV: 2, zeroMvPerV: 0 }]
  const points = [{ channel: 1, unit: 'kg', sensors, deadLoad: 0, noiseMicrovolt: 0 }]
  const indicators = [{ key: 'indicator', unit: 1, profile, words, points }]
  let now = 0
  const bench = await startBench({ seed: 5, clock: () => now, buses: [{ key: 'bus', link: { kind: 'modbus-tcp', port: 0 }, indicators }] })
  const address = bench.addressOf('bus')
  if ('path' in address) throw new Error('expected a socket')
  const opened = await openBus({ link: { kind: 'modbus-tcp', ...address } })
  if (!opened.ok) throw new Error(JSON.stringify(opened.failure))
  return {
    bench,
    io: unitIo(opened.value, 1, profile, nodeClock.pause),
    pass(seconds) {
      now += 1000 * seconds
    },
    async close() {
      await opened.value.close()
      await bench.close()
    },
  }
}
