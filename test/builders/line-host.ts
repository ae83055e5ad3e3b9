import { mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Bus, Job } from '../../app/job/schema.ts'
import { type Profile, profile as profileSchema, type Register } from '../../app/profile/schema.ts'
import { bundledProfiles } from '../../app/profiles/bundled.ts'
import { openBus } from '../../main/bus/open-bus.ts'
import { createJob, openJobStore } from '../../main/files/job-store.ts'
import { createHost, type Host } from '../../main/host/host.ts'
import { nodeClock } from '../../main/host/node-clock.ts'
import { type Bench, startBench } from '../../simulator/index.ts'
import { makePoint } from './weighing-point.ts'

export const factory = { baud: 19_200, parity: 'even', stopBits: 1 } as const
const bundled = bundledProfiles.get('two-pairs-bus-in-registers')!
/** With time enough for a busy machine to answer, and quicker to save and to restart. */
export const busProfile: Profile = {
  ...bundled,
  requests: { ...bundled.requests, answerMs: 500 },
  procedures: {
    save: { evidence: 'invented', steps: [{ write: 'control.command', words: [1] }, { waitMs: 60 }] },
    restart: { evidence: 'invented', steps: [{ write: 'control.command', words: [2] }, { answersAgainWithinMs: 1000 }] },
  },
}

/** The same model, whose bus registers come into force otherwise than after a restart. */
export const inForce = (takesEffect: Register['takesEffect'], change: Partial<Profile> = {}): Profile =>
  profileSchema.parse({
    ...busProfile,
    ...change,
    registers: busProfile.registers.map((r) => (r.name.startsWith('bus.') ? { ...r, takesEffect } : r)),
  })

export type LineUnit = { key: string; unit: number; serial: number; on?: boolean }
export type LineHost = { host: Host; bench: Bench; jobPath: string; reopen(): Promise<Host>; close(): Promise<void> }

/** Units on one simulated line, and the real host over a job that knows some indicators on it. A new port format is a new master's. */
export async function startLineHost(options: {
  way: 'pty' | 'rtu-over-tcp' | 'modbus-tcp'
  units: LineUnit[]
  indicators: { id: string; unit: number }[]
  profile?: Profile
}): Promise<LineHost> {
  const profile = options.profile ?? busProfile
  const sensors = [{ capacity: 1000, ratedOutputMvPerV: 2, zeroMvPerV: 0 }]
  const points = [{ channel: 1, unit: 'kg', sensors, deadLoad: 0, noiseMicrovolt: 0 }]
  const bench = await startBench({
    seed: 3,
    buses: [
      {
        key: 'line',
        link: options.way === 'pty' ? { kind: 'pty', baud: 115_200, bitsPerCharacter: 11 } : { kind: options.way, port: 0 },
        indicators: options.units.map(({ key, unit, serial }) => ({
          key,
          unit,
          profile,
          format: factory,
          words: { 'identity.model': [6310], 'identity.serial': [0, serial] },
          points,
        })),
      },
    ],
  })
  for (const { key, on } of options.units) if (on === false) bench.power(key, false)
  const address = bench.addressOf('line')
  const link: Bus['link'] =
    'path' in address
      ? { kind: 'serial', path: address.path, format: factory }
      : options.way === 'modbus-tcp'
        ? { kind: 'modbus-tcp', ...address }
        : { kind: 'rtu-over-tcp', ...address, format: factory }
  const job: Job = {
    schema: 1,
    id: 'line',
    name: 'Line',
    site: '',
    simulated: false,
    decimalSign: '.',
    revision: 0,
    buses: [{ id: 'bus-1', name: 'Line', link }],
    indicators: options.indicators.map(({ id, unit }) => ({ id, name: id.toUpperCase(), busId: 'bus-1', unit, profileId: profile.id })),
    points: options.indicators.map(({ id }, i) => makePoint({ id: `p-${id}`, tag: `WT-${i + 1}`, indicatorId: id })),
    visits: [],
    profiles: bundledProfiles.has(profile.id) ? [] : [profile],
  }
  const jobPath = join(mkdtempSync(join(tmpdir(), 'spanwright-line-')), 'line.job.json')
  const made = createJob(jobPath, job)
  if (!made.ok) throw new Error(made.failure.why)
  const open = async () => {
    const host = openLineHost(jobPath, bench, profile)
    await host.call('visit.start', { by: 'A. Tester' })
    await host.call('bus.open', { busId: 'bus-1' })
    return host
  }
  const line: LineHost = {
    host: await open(),
    bench,
    jobPath,
    async reopen() {
      await line.host.close()
      line.host = await open()
      return line.host
    },
    async close() {
      await line.host.close()
      await bench.close()
    },
  }
  return line
}

/** The real host; the simulated line is told how the port is set, which a pseudo-terminal or socket does not tell by itself. */
export function openLineHost(jobPath: string, bench: Bench | null, profile: Profile = busProfile): Host {
  const store = openJobStore(jobPath, { address: 'test', since: nodeClock.stamp() })
  if (!store.ok) throw new Error(store.failure.why)
  return createHost({
    store: store.value,
    shell: 'command line',
    profiles: new Map([...bundledProfiles, [profile.id, profile], ...store.value.job.profiles.map((own) => [own.id, own] as const)]),
    clock: nodeClock,
    bench: null,
    openBus({ link }) {
      if (link.kind === 'practice') throw new Error('a real link is expected')
      if (link.kind !== 'modbus-tcp') bench?.setLine('line', { masterFormat: link.format })
      // Pseudo-terminals of some systems refuse a second open with another parity: what is said is what the bench was told.
      const shown = link.kind === 'serial' ? { ...link, format: { baud: 115_200, parity: 'none', stopBits: 1 } as const } : link
      return openBus({ link: shown }, { listenMs: 0 })
    },
  })
}
