import { expect, it } from 'vitest'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { scaledStart } from '../../../main/practice/scaled-start.ts'
import { startBench } from '../../../simulator/index.ts'
import { value } from '../../builders/practice-host.ts'

/** What such an indicator shows of a load once its filters have settled; the physics are the simulator's own. */
async function shown(id: string, load: (capacity: number) => number, words?: Record<string, number[]>) {
  const profile = bundledProfiles.get(id)!
  const start = value(scaledStart(profile))
  const { sensor } = start
  const points = Array.from({ length: profile.channels }, (_, i) => ({
    channel: i + 1,
    unit: sensor.unit,
    sensors: [sensor],
    deadLoad: 0,
    noiseMicrovolt: 0,
  }))
  let now = 0
  const indicators = [{ key: 'i', unit: 1, profile, words: words ?? start.words, points }]
  const bench = await startBench({ seed: 1, clock: () => now, buses: [{ key: 'bus', link: { kind: 'modbus-tcp', port: 0 }, indicators }] })
  for (const { channel } of points) bench.setLoad('i', channel, load(sensor.capacity))
  now = 120_000
  const displays = points.map(({ channel }) => bench.display('i', channel))
  await bench.close()
  return { sensor, displays }
}

it.each([...bundledProfiles.keys()])('%s starts scaled for the sensor it has, on every channel', async (id) => {
  const { sensor, displays } = await shown(id, (capacity) => capacity / 4)
  for (const { reading = Number.NaN, unit } of displays) {
    expect(unit).toBe(sensor.unit)
    // A quarter of the load, to what the digits of the poorest indicator leave of it.
    expect(Math.abs(reading - sensor.capacity / 4)).toBeLessThan(sensor.capacity / 2000)
  }
})

it('does not show the load where nobody has scaled it', async () => {
  const { displays } = await shown('two-pairs-float32-locked', () => 250, {})
  expect(displays[0]?.reading).not.toBeCloseTo(250, 0)
})
