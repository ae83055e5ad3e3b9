import { readFileSync } from 'node:fs'
import { parseArgs } from 'node:util'
import { type Profile, profile as profileSchema } from '../app/profile/schema.ts'
import type { BenchBus, BenchLink, BenchShunt, LineConditions } from './description.ts'
import { formatFrom, lineFrom } from './line-options.ts'
import { numberFrom, wordsFrom } from './typed-values.ts'
import { layoutOf } from './unit/layout.ts'
import { putValue, type Words, wordsAt } from './unit/memory.ts'

export const usage = `node simulator/program.ts --profile FILE [options]

  --link pty|tcp|modbus-tcp|serial   way to the indicator (pty); tcp carries RTU frames
  --unit N                           address on the bus (1)
  --port N                           TCP port of 127.0.0.1 (any free one)
  --path PATH                        existing serial port, for --link serial
  --baud N, --bits 10|11             speed of the line, bits per character (19200, 11)
  --sensors N                        sensors in parallel (1)
  --capacity X, --rated-output X     of each sensor, in the unit of the load and in mV/V (1000, 2)
  --zero X                           of each sensor, mV/V (0)
  --dead-load X, --noise X           in the unit of the load, in microvolt (0, 0.2)
  --load-unit UNIT                   (kg)
  --set KEY=VALUE                    saved value of a register in its own unit, e.g. scale.upper.signal@1=2.0; repeatable
  --words KEY=W,W                    the same as raw words; repeatable
  --seed N                           of the noise (1)

The indicator's port and inputs
  --format BAUD,8E1                  how its port is set where the profile has no register for it (the profile's own)
  --shunt OHM,OHM                    shunt resistor, and the arms of each sensor's bridge, for shunt-on and shunt-off

The line, but not on modbus-tcp
  --adapter                          with pty: a path that stays while the adapter is out and in
  --echo                             what is sent comes back
  --line-noise BYTE,BYTE             stray bytes after every answer
  --other-master UNIT,MS             somebody else polls this unit so often, and does not listen before
  --master-format BAUD,8E1           how the master has set its port, where it is not as the indicator's: garbage, no answer

Commands on standard input
  load N [channel], loads            apply a load; show the loads
  display [channel]                  what the indicator shows
  settings                           what it holds now, and has saved
  panel KEY W,W                      somebody types at its front panel, as raw words
  power on|off|cycle                 its supply
  pull, plug                         the cable of the bus
  adapter out|in                     the adapter, with --adapter
  line [--echo] [--line-noise ...]   the conditions of the line from now on; without options an ordinary line
  fault JSON, clear-faults           faults to come, e.g. fault {"kind":"late","byMs":200,"times":1}
  quit`

const lineOptions = {
  echo: { type: 'boolean', default: false },
  'line-noise': { type: 'string' },
  'other-master': { type: 'string' },
  'master-format': { type: 'string' },
} as const

const options = {
  profile: { type: 'string' },
  link: { type: 'string', default: 'pty' },
  unit: { type: 'string', default: '1' },
  port: { type: 'string', default: '0' },
  path: { type: 'string' },
  baud: { type: 'string', default: '19200' },
  bits: { type: 'string', default: '11' },
  sensors: { type: 'string', default: '1' },
  capacity: { type: 'string', default: '1000' },
  'rated-output': { type: 'string', default: '2' },
  zero: { type: 'string', default: '0' },
  'dead-load': { type: 'string', default: '0' },
  noise: { type: 'string', default: '0.2' },
  'load-unit': { type: 'string', default: 'kg' },
  set: { type: 'string', multiple: true, default: [] as string[] },
  words: { type: 'string', multiple: true, default: [] as string[] },
  seed: { type: 'string', default: '1' },
  format: { type: 'string' },
  shunt: { type: 'string' },
  adapter: { type: 'boolean', default: false },
  ...lineOptions,
  help: { type: 'boolean', default: false },
} as const

type Given = ReturnType<typeof parse>['values']

const parse = (args: string[]) => parseArgs({ args, options, strict: true, allowNegative: false })

const splitAssignment = (text: string): [string, string] => {
  const at = text.indexOf('=')
  if (at < 1) throw new Error(`KEY=VALUE expected, not ${text}`)
  return [text.slice(0, at), text.slice(at + 1)]
}

const linkFrom = (given: Given): BenchLink => {
  const bits = numberFrom(given.bits, '--bits')
  if (bits !== 10 && bits !== 11) throw new Error('--bits is 10 or 11')
  const line = { baud: numberFrom(given.baud, '--baud'), bitsPerCharacter: bits } as const
  const port = numberFrom(given.port, '--port')
  if (given.adapter && given.link !== 'pty') throw new Error('--adapter goes with --link pty')
  switch (given.link) {
    case 'pty':
      return { kind: 'pty', ...line, ...(given.adapter && { adapter: true }) }
    case 'serial':
      if (given.path === undefined) throw new Error('--link serial needs --path')
      return { kind: 'serial-path', path: given.path, ...line }
    case 'tcp':
      return { kind: 'rtu-over-tcp', port }
    case 'modbus-tcp':
      return { kind: 'modbus-tcp', port }
    default:
      throw new Error(`--link is pty, tcp, modbus-tcp or serial, not ${given.link}`)
  }
}

const readProfile = (file: string): Profile => {
  const read = profileSchema.safeParse(JSON.parse(readFileSync(file, 'utf8')))
  if (read.success) return read.data
  const [issue] = read.error.issues
  throw new Error(`${file}: ${issue?.path.join('.')}: ${issue?.message}`)
}

const settingsFrom = (given: Given, profile: Profile): Record<string, number[]> => {
  const layout = layoutOf(profile)
  const words: Words = new Map()
  const settings: Record<string, number[]> = {}
  for (const [key, text] of given.words.map(splitAssignment)) settings[key] = wordsFrom(text, key)
  // Registers that hold decimals of others come first, whatever the order typed.
  const values = given.set.map(splitAssignment).map(([key, text]) => {
    const place = layout.byKey(key)
    if (place === undefined) throw new Error(`the profile has no register ${key}`)
    return { key, place, value: numberFrom(text, key) }
  })
  for (const { key, place, value } of values.sort(
    (a, b) => Number(typeof a.place.register.decimals === 'object') - Number(typeof b.place.register.decimals === 'object'),
  )) {
    putValue(words, layout, place, value)
    settings[key] = wordsAt(words, place)
  }
  return settings
}

const shuntFrom = (text: string): BenchShunt => {
  const [ohms, bridgeOhms] = text.split(',')
  return { ohms: numberFrom(ohms, '--shunt OHM,OHM'), bridgeOhms: numberFrom(bridgeOhms, '--shunt OHM,OHM') }
}

/** Conditions of the line as the command `line` gives them, in the words of the options. */
export const lineConditions = (words: readonly string[]): LineConditions =>
  lineFrom(parseArgs({ args: [...words], options: lineOptions, strict: true, allowNegative: false }).values)

export type ProgramOptions = { bus: BenchBus; seed: number }

/** Reads the command line; undefined asks for the usage text. Throws an Error that says which option is wrong. */
export const programOptions = (args: string[]): ProgramOptions | undefined => {
  const { values: given } = parse(args)
  if (given.help) return undefined
  if (given.profile === undefined) throw new Error('--profile is missing')
  const profile = readProfile(given.profile)
  const sensor = {
    capacity: numberFrom(given.capacity, '--capacity'),
    ratedOutputMvPerV: numberFrom(given['rated-output'], '--rated-output'),
    zeroMvPerV: numberFrom(given.zero, '--zero'),
  }
  const sensors = Array.from({ length: numberFrom(given.sensors, '--sensors') }, () => sensor)
  if (sensors.length === 0) throw new Error('--sensors is at least 1')
  const point = {
    unit: given['load-unit'],
    sensors,
    deadLoad: numberFrom(given['dead-load'], '--dead-load'),
    noiseMicrovolt: numberFrom(given.noise, '--noise'),
    ...(given.shunt !== undefined && { shunt: shuntFrom(given.shunt) }),
  }
  return {
    seed: numberFrom(given.seed, '--seed'),
    bus: {
      key: 'bus',
      link: linkFrom(given),
      line: lineFrom(given),
      indicators: [
        {
          key: 'indicator',
          unit: numberFrom(given.unit, '--unit'),
          profile,
          words: settingsFrom(given, profile),
          ...(given.format !== undefined && { format: formatFrom(given.format, '--format') }),
          points: Array.from({ length: profile.channels }, (_, i) => ({ channel: i + 1, ...point })),
        },
      ],
    },
  }
}
