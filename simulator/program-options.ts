import { readFileSync } from 'node:fs'
import { parseArgs } from 'node:util'
import { type Profile, profile as profileSchema } from '../app/profile/schema.ts'
import type { BenchBus, BenchLink } from './description.ts'
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

Commands on standard input: load N [channel], loads, settings, power on|off|cycle, pull, plug, panel KEY W,W, fault JSON, quit`

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
  help: { type: 'boolean', default: false },
} as const

type Given = ReturnType<typeof parse>['values']

const parse = (args: string[]) => parseArgs({ args, options, strict: true, allowNegative: false })

/** A number as typed; throws an Error that says what was wrong with it. */
export const numberFrom = (text: string | undefined, what: string): number => {
  const value = Number(text)
  if (text === undefined || text.trim() === '' || !Number.isFinite(value))
    throw new Error(`${what} is not a number: ${text ?? '(missing)'}`)
  return value
}

/** Words as typed, e.g. "16384,0x0831". */
export const wordsFrom = (text: string, what: string): number[] =>
  text.split(',').map((word) => {
    const value = numberFrom(word, what)
    if (!Number.isInteger(value) || value < 0 || value > 0xffff) throw new Error(`${what}: a word is 0 to 65535, not ${word}`)
    return value
  })

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
  switch (given.link) {
    case 'pty':
      return { kind: 'pty', ...line }
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
  }
  return {
    seed: numberFrom(given.seed, '--seed'),
    bus: {
      key: 'bus',
      link: linkFrom(given),
      indicators: [
        {
          key: 'indicator',
          unit: numberFrom(given.unit, '--unit'),
          profile,
          words: settingsFrom(given, profile),
          points: Array.from({ length: profile.channels }, (_, i) => ({ channel: i + 1, ...point })),
        },
      ],
    },
  }
}
