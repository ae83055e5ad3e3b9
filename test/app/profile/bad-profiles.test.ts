import { describe, expect, it } from 'vitest'
import { parseProfile, readProfile } from '../../../app/profile/read-profile.ts'
import file from '../../../app/profiles/two-pairs-moving-decimals.profile.json' with { type: 'json' }

type Json = Record<string, unknown>
type Loose = Json & { registers: Json[]; requests: Json; identity: { tests: Json[] }; dependencies: Json[]; commands: Record<string, Json> }

/** Index of a register of the file, so that the expected path follows the file. */
const at = (name: string) => file.registers.findIndex((r) => r.name === name)

function problemsOf(spoil: (p: Loose) => void) {
  const copy = structuredClone(file) as unknown as Loose
  spoil(copy)
  const read = readProfile(copy)
  return read.ok ? [] : read.failure.problems
}
const register = (name: string, change: Json) => (p: Loose) => {
  Object.assign(p.registers[at(name)]!, change)
}

const cases: [string, (p: Loose) => void, string, RegExp][] = [
  ['an unknown key', (p) => Object.assign(p, { colour: 'red' }), '(file)', /colour/],
  ['an unknown key of a register', register('scale.lower.signal', { adress: 3 }), `registers.${at('scale.lower.signal')}`, /adress/],
  [
    'a text where a number belongs',
    register('reading.unit', { address: '17' }),
    `registers.${at('reading.unit')}.address`,
    /^has to be a number$/,
  ],
  ['a list where a table belongs', (p) => Object.assign(p, { requests: [] }), 'requests', /^has to be names with values in braces/],
  ['a single value where a list belongs', (p) => Object.assign(p, { registers: 12 }), 'registers', /^has to be a list in brackets/],
  ['a missing value', (p) => delete p.requests['longestRead'], 'requests.longestRead', /^is missing$/],
  ['an address beyond the last', register('reading.unit', { address: 65536 }), `registers.${at('reading.unit')}.address`, /65535/],
  [
    'a wide type with a narrow order',
    register('setpoint.1.value', { order: 'AB' }),
    `registers.${at('setpoint.1.value')}.order`,
    /ABCD, CDAB, BADC or DCBA/,
  ],
  ['a narrow type with a wide order', register('reading.unit', { order: 'CDAB' }), `registers.${at('reading.unit')}.order`, /AB or BA/],
  ['decimals of a float', register('setpoint.1.value', { type: 'f32' }), `registers.${at('setpoint.1.value')}.decimals`, /leave this out/],
  [
    'a field beyond its word',
    register('filter.cutoff', { field: { from: 12, width: 8 } }),
    `registers.${at('filter.cutoff')}.field.width`,
    /bits 0 to 15/,
  ],
  [
    'a status bit beyond its word',
    register('live.status', { bits: [{ bit: 16, name: 'fault' }] }),
    `registers.${at('live.status')}.bits.0.bit`,
    /0 to 15/,
  ],
  [
    'one code with two meanings',
    register('filter.cutoff', {
      options: [
        { raw: 0, means: '1 Hz' },
        { raw: 0, means: '2 Hz' },
      ],
    }),
    `registers.${at('filter.cutoff')}.options.1.raw`,
    /code 0 has a meaning already/,
  ],
  [
    'limits the wrong way round',
    register('reading.decimals', { limits: { from: '4', to: '0' } }),
    `registers.${at('reading.decimals')}.limits.to`,
    /not below 4/,
  ],
  [
    'decimals in a register that is not there',
    register('setpoint.1.value', { decimals: { register: 'reading.places' } }),
    `registers.${at('setpoint.1.value')}.decimals.register`,
    /no register named reading\.places/,
  ],
  [
    'a test of a register that is not there',
    (p) => Object.assign(p.identity.tests[0]!, { register: 'identity.kind' }),
    'identity.tests.0.register',
    /no register named identity\.kind/,
  ],
  [
    'a dependency on nothing',
    (p) => Object.assign(p.dependencies[0]!, { moves: ['setpoint.9.value'] }),
    'dependencies.0.moves.0',
    /setpoint\.9\.value/,
  ],
  [
    'a command that writes nothing known',
    (p) => Object.assign(p.commands['zero']!, { steps: [{ write: 'control.zero', words: [1] }] }),
    'commands.zero.steps.0.write',
    /no register named control\.zero/,
  ],
  [
    'the same meaning twice',
    register('setpoint.2.value', { name: 'setpoint.1.value' }),
    `registers.${at('setpoint.2.value')}.name`,
    /already register/,
  ],
  ['a channel too many', register('setpoint.2.value', { channel: 2 }), `registers.${at('setpoint.2.value')}.channel`, /^at most 1: /],
  [
    'registers that take the same words',
    register('setpoint.2.value', { address: 29 }),
    `registers.${at('setpoint.2.value')}.address`,
    /takes words of setpoint\.1\.value at 28/,
  ],
  [
    'two meanings of a whole word',
    register('reading.unit', { address: 16 }),
    `registers.${at('reading.unit')}.address`,
    /field of different bits/,
  ],
  [
    'writing a measured value',
    register('live.status', { table: 'input', access: 'read-write' }),
    `registers.${at('live.status')}.access`,
    /can only be read/,
  ],
  [
    'two words written by the function for one',
    (p) => Object.assign(p.requests, { writeWith: 'fc06' }),
    `registers.${at('scale.lower.reading')}.type`,
    /say fc16 or either/,
  ],
  [
    'two words in reads of one',
    (p) => Object.assign(p.requests, { longestRead: 1 }),
    `registers.${at('setpoint.1.value')}.type`,
    /say 2 or more/,
  ],
  ['a newer schema', (p) => Object.assign(p, { schema: 2 }), 'schema', /schema 2.*knows 1/],
  [
    'a panel entry that leans on another that is not there',
    (p) => Object.assign(p, { panel: [{ name: 'scale.slope', label: 'A', unit: { entry: 'reading.unit' }, evidence: 'invented' }] }),
    'panel.0.unit.entry',
    /no panel entry named reading\.unit/,
  ],
]

describe('a profile file is refused with the path of what is wrong and what would be right', () => {
  it.each(cases)('%s', (_what, spoil, path, message) => {
    expect(problemsOf(spoil)).toContainEqual({ path, message: expect.stringMatching(message) })
  })

  it('while the file as it stands is taken', () => {
    expect(problemsOf(() => {})).toEqual([])
  })

  it('fields of different bits may share a word, fields of the same bits not', () => {
    const share = (from: number) => (p: Loose) => {
      register('reading.unit', { field: { from: 0, width: 3 } })(p)
      register('filter.cutoff', { address: 17, field: { from, width: 3 } })(p)
    }
    expect(problemsOf(share(3))).toEqual([])
    expect(problemsOf(share(2))).toEqual([
      { path: `registers.${at('filter.cutoff')}.address`, message: expect.stringContaining('reading.unit at 17') },
    ])
  })

  it('a file that breaks off is refused with the place', () => {
    const text = JSON.stringify(file, null, 2)
    const read = parseProfile(text.slice(0, 400))
    expect(read).toMatchObject({
      ok: false,
      failure: { problems: [{ path: '(file)', message: expect.stringMatching(/not whole JSON.*line \d+/) }] },
    })
    expect(parseProfile(text)).toMatchObject({ ok: true })
  })
})
