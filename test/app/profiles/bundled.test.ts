import { globSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { readProfile } from '../../../app/profile/read-profile.ts'
import { missingForScaling } from '../../../app/profile/scaling-registers.ts'
import { type Profile, scalingModel } from '../../../app/profile/schema.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'

const root = new URL('../../../', import.meta.url).pathname
const files = globSync('app/profiles/*.profile.json', { cwd: root }).sort()
const all = [...bundledProfiles.values()]

describe('every bundled profile', () => {
  it.each(files)('%s fits the schema, is bundled under its file name, and can be scaled', (file) => {
    const read = readProfile(JSON.parse(readFileSync(root + file, 'utf8')))
    expect(read).toMatchObject({ ok: true })
    const id = file.replace(/.*\//, '').replace('.profile.json', '')
    expect(bundledProfiles.get(id)?.id).toBe(id)
    expect(missingForScaling(bundledProfiles.get(id)!)).toEqual([])
  })

  it('is invented, in every fact', () => {
    expect(JSON.stringify(all).match(/"evidence":"(?!invented)/g)).toBeNull()
  })
})

const steps = (p: Profile) => [...Object.values(p.procedures), ...Object.values(p.commands)].flatMap((each) => each?.steps ?? [])
const sharesWord = (p: Profile, has: (r: Profile['registers'][number]) => boolean) =>
  p.registers.some((r) => r.field && has(r) && p.registers.some((x) => x !== r && x.table === r.table && x.address === r.address))

/** What makes indicators differ, each with the question that tells it in a profile. */
const quirks: [string, (p: Profile) => boolean][] = [
  ['int32, low word first, fixed decimals', (p) => p.registers.some((r) => r.type === 'i32' && r.order === 'CDAB' && r.decimals === 5)],
  ['bytes swapped in each word', (p) => p.registers.some((r) => r.order === 'BADC')],
  ['everything reversed', (p) => p.registers.some((r) => r.order === 'DCBA')],
  ['decimals held in another register', (p) => p.registers.some((r) => typeof r.decimals === 'object')],
  ['set-points that move with the decimals', (p) => p.dependencies.some((d) => d.moves.includes('setpoint.1.value'))],
  ['function 06 only', (p) => p.requests.writeWith === 'fc06' && p.registers.some((r) => r.access === 'read-write')],
  ['function 16 only', (p) => p.requests.writeWith === 'fc16'],
  ['one parameter a write', (p) => p.requests.oneParameterAWrite],
  ['short longest read', (p) => p.requests.longestRead <= 16 && p.registers.length > 10],
  ['gaps that cannot be read', (p) => p.requests.readOver === 0 && p.registers.length > 10],
  ['pause between requests', (p) => p.requests.pauseMs > 0],
  ['save is over when a register says so', (p) => p.procedures.save?.steps.some((s) => 'until' in s) === true],
  ['restart for effect', (p) => p.procedures.restart !== undefined && p.registers.some((r) => r.takesEffect === 'after-restart')],
  ['effect after saving', (p) => p.registers.some((r) => r.takesEffect === 'after-save')],
  ['unlocking', (p) => p.procedures.unlock !== undefined],
  [
    'kept at once, memory that wears',
    (p) => p.writeEndurance !== undefined && p.registers.some((r) => r.role === 'setting' && r.kept === 'at-once'),
  ],
  ['read-back within a tolerance', (p) => p.registers.some((r) => typeof r.readBack === 'object')],
  ['an enumeration sharing its word', (p) => sharesWord(p, (r) => r.options !== undefined)],
  ['a number sharing its word', (p) => sharesWord(p, (r) => r.options === undefined)],
  ['status bits', (p) => p.registers.some((r) => r.name === 'live.status' && r.bits)],
  ['status as discrete input', (p) => p.registers.some((r) => r.table === 'discrete')],
  [
    'commands as coils',
    (p) =>
      Object.values(p.commands).length > 0 &&
      steps(p).some((s) => 'write' in s && p.registers.some((r) => r.name === s.write && r.table === 'coil')),
  ],
  ['identity that cannot tell', (p) => p.identity.tests.some((t) => t.otherwise === 'cannot-tell')],
  ['no identity at all', (p) => p.identity.tests.length === 0],
  ['absolute mV input', (p) => p.input?.ratiometric === false && p.input.signalUnit === 'mV'],
  ['several channels', (p) => p.channels === 4],
  ['the reading alone on the bus', (p) => p.registers.length === 1 && p.registers[0]?.name === 'live.reading' && p.panel !== undefined],
  ['no bus at all', (p) => p.registers.length === 0 && p.panel !== undefined],
  [
    'address, speed and parity in registers',
    (p) => ['address', 'baud', 'parity'].every((n) => p.registers.some((r) => r.name === `bus.${n}`)),
  ],
  ['bit fields by mask', (p) => p.requests.maskWrite === true && p.registers.some((r) => r.field && r.access === 'read-write')],
  ['learned values that can only be read', (p) => p.registers.some((r) => r.name === 'scale.upper.signal' && r.access === 'read')],
]

describe('between them the bundled profiles have', () => {
  it.each(quirks)('%s', (_what, has) => {
    expect(all.filter(has).map((p) => p.id)).not.toEqual([])
  })

  it.each(scalingModel.options.map((o) => o.shape.model.value))('the scaling model %s', (model) => {
    expect(all.filter((p) => p.scaling.model === model).map((p) => p.id)).not.toEqual([])
  })
})
