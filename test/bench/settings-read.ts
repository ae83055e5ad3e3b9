import type { Profile } from '../../app/profile/schema.ts'
import { settingRegisters } from '../../app/profile/settings.ts'
import { bundledProfiles } from '../../app/profiles/bundled.ts'
import { lineTiming } from '../../main/bus/line-timing.ts'
import { type OpenBus, openBus } from '../../main/bus/open-bus.ts'
import { nodeClock } from '../../main/host/node-clock.ts'
import { unitIo } from '../../main/indicator/unit-io.ts'
import { startChild } from './child.ts'
import type { Part, PartOptions } from './part.ts'
import type { Row } from './table.ts'

const answerDelayMs = 2

type Read = { requests: number; wireMs: number; tookMs: number }

/** Every frame of a read costs its characters; every request also the silence before it, the unit's delay and the pause it wants. */
async function tapped(bus: OpenBus, profile: Profile, read: () => Promise<{ ok: boolean }>): Promise<Read> {
  const timing = lineTiming(profile.serial ?? { baud: 19_200, parity: 'even', stopBits: 1 })
  let requests = 0
  let characters = 0
  const untap = bus.onTap(({ direction, bytes }) => {
    characters += bytes.length
    if (direction === 'sent') requests += 1
  })
  const began = performance.now()
  const done = await read()
  const tookMs = performance.now() - began
  untap()
  if (!done.ok) throw new Error(`${profile.id}: ${JSON.stringify(done)}`)
  return {
    requests,
    wireMs: characters * timing.characterMs + requests * (timing.silenceMs + answerDelayMs + profile.requests.pauseMs),
    tookMs,
  }
}

async function compare(profile: Profile): Promise<{ planned: Read; single: Read } | undefined> {
  const registers = settingRegisters(profile)
  const { serial } = profile
  if (registers.length === 0 || !serial) return undefined
  const bitsPerCharacter = serial.parity === 'none' && serial.stopBits === 1 ? 10 : 11
  const point = { unit: 'kg', sensors: [{ capacity: 1000, ratedOutputMvPerV: 2, zeroMvPerV: 0 }], deadLoad: 0, noiseMicrovolt: 0 }
  const indicator = {
    key: 'unit',
    unit: 1,
    profile,
    words: {},
    answerDelayMs,
    points: Array.from({ length: profile.channels }, (_, i) => ({ ...point, channel: i + 1 })),
  }
  const simulator = await startChild<{ bus: { path: string } }>('simulator-process.ts', [
    { key: 'bus', link: { kind: 'pty', baud: serial.baud, bitsPerCharacter }, indicators: [indicator] },
  ])
  const opened = await openBus({ link: { kind: 'serial', path: simulator.first.bus.path, format: serial } }, { listenMs: 0 })
  if (!opened.ok) throw new Error(JSON.stringify(opened.failure))
  const bus = opened.value
  try {
    const io = unitIo(bus, 1, profile, nodeClock.pause)
    // The first request of a process is slow: code is loaded and compiled.
    await io.read(registers.slice(0, 1), 'user')
    const planned = await tapped(bus, profile, () => io.read(registers, 'user'))
    const single = await tapped(bus, profile, async () => {
      for (const register of registers) {
        const read = await io.read([register], 'user')
        if (!read.ok) return read
      }
      return { ok: true }
    })
    return { planned, single }
  } finally {
    await bus.close()
    await simulator.child.end()
  }
}

async function run({ say }: PartOptions): Promise<Row[]> {
  const rows: Row[] = []
  for (const profile of bundledProfiles.values()) {
    say(profile.id)
    const found = await compare(profile)
    if (!found) {
      rows.push({ what: profile.id, measured: 'no settings on a serial line' })
      continue
    }
    const { planned, single } = found
    const times = (read: Read) => `${read.wireMs.toFixed(0)} ms on the wire (requests: ${read.requests}, took ${read.tookMs.toFixed(0)} ms)`
    rows.push({
      what: profile.id,
      measured: `${times(planned)}; one request a register ${times(single)}; ${(single.wireMs / planned.wireMs).toFixed(1)} times`,
    })
  }
  return rows
}

export const settingsRead: Part = {
  name: 'settings-read',
  title: 'Reading all settings of each bundled profile: by the planner, and with one request a register',
  notes: [
    "on the wire: characters of the frames that were really sent and received, silences, pauses the profile asks for, 2 ms of the unit's delay",
    "took: by the clock, against the simulator paced at the profile's own speed; a register that others give its meaning brings them along",
  ],
  run,
}
