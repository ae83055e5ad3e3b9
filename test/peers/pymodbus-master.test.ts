import { execFile } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { promisify } from 'node:util'
import { afterEach, expect, it } from 'vitest'
import { profile as profileSchema } from '../../app/profile/schema.ts'
import { type Bench, type BenchIndicator, type BenchLink, startBench } from '../../simulator/index.ts'
import { describePeers } from './peer.ts'
import { openPtyPair } from './pty-pair.ts'

const run = promisify(execFile)
const script = fileURLToPath(new URL('pymodbus-master.py', import.meta.url))
const profileFile = new URL('../../app/profiles/two-pairs-float32-locked.profile.json', import.meta.url)

/** One cell of 1000 kg and 2 mV/V under 500 kg, scaled 0.125 mV/V to 0 kg and 2 mV/V to 1000 kg, interval 0.5 kg. */
const indicator: BenchIndicator = {
  key: 'scale',
  unit: 1,
  profile: profileSchema.parse(JSON.parse(readFileSync(profileFile, 'utf8'))),
  words: {
    'identity.firmware': [214],
    'identity.serial': [0x0006, 0x1f2d],
    'input.range@1': [1],
    'excitation.voltage@1': [1],
    'reading.interval@1': [0x3f00, 0],
    'scale.lower.signal@1': [0x3e00, 0],
    'scale.upper.signal@1': [0x4000, 0],
    'scale.upper.reading@1': [0x447a, 0],
  },
  points: [{ channel: 1, unit: 'kg', sensors: [{ capacity: 1000, ratedOutputMvPerV: 2, zeroMvPerV: 0 }], deadLoad: 0, noiseMicrovolt: 0 }],
}

// Expected by hand: 500 kg gives 1 mV/V; (1 - 0.125) / (2 - 0.125) x 1000 kg = 466.67 kg, in steps of 0.5 kg 466.5 kg.
const expectedBefore = {
  identity: [20817, 214, 0x0006, 0x1f2d],
  pairs: [0.125, 0, 2, 1000],
  live: [466.5, 1, 466.5],
  status: [0x40],
  'locked write': { exception: 4 },
  'single-register write': { exception: 1 },
  unlock: 'done',
  'lock reads': [1],
  write: 'done',
  'half a float': { exception: 3 },
  'beyond the limit': { exception: 3 },
  'nothing there': { exception: 2 },
  'read back': [1.25],
  'unsaved status': [0x20],
  save: 'done',
  'saved status': [0],
  'volatile write': 'done',
}

/** The saved signal has stayed; the reading written after saving has not. */
const expectedAfter = { 'lock reads': [0], pairs: [0.125, 0, 1.25, 1000] }

const open: { close(): Promise<void> }[] = []
afterEach(async () => {
  for (const one of open.splice(0).reverse()) await one.close()
})

const start = async (link: BenchLink): Promise<Bench> => {
  // The load is on before the first sample: the clock stands until then.
  const started = performance.now()
  let running = false
  const clock = () => (running ? performance.now() - started + 10_000 : 0)
  const bench = await startBench({ buses: [{ key: 'bus', link, indicators: [indicator] }], seed: 1, clock })
  open.push(bench)
  bench.setLoad('scale', 1, 500)
  running = true
  return bench
}

const work = async (python: string, bench: Bench, kind: string, where: string) => {
  const part = async (name: string): Promise<unknown> =>
    JSON.parse((await run(python, [script, kind, where, name], { timeout: 15_000 })).stdout)
  expect(await part('before')).toEqual(expectedBefore)
  bench.powerCycle('scale')
  expect(await part('after')).toEqual(expectedAfter)
}

describePeers(['pymodbus', 'socat'], 'an outside master on a serial line', ({ pymodbus, socat }) => {
  it('reads, unlocks, writes and saves the simulated indicator', async () => {
    const pair = await openPtyPair(socat)
    open.push(pair)
    const bench = await start({ kind: 'serial-path', path: pair.ends[0], baud: 19_200, bitsPerCharacter: 10 })
    await work(pymodbus, bench, 'serial', pair.ends[1])
  })
})

describePeers(['pymodbus'], 'an outside master over a socket', ({ pymodbus }) => {
  it.each(['rtu-over-tcp', 'modbus-tcp'] as const)('reads, unlocks, writes and saves the simulated indicator by %s', async (kind) => {
    const bench = await start({ kind, port: 0 })
    const address = bench.addressOf('bus')
    if (!('port' in address)) throw new Error('a socket has a port')
    await work(pymodbus, bench, kind, String(address.port))
  })
})
