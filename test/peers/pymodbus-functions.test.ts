import { execFile } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { promisify } from 'node:util'
import { expect, it } from 'vitest'
import { type Profile, profile as profileSchema } from '../../app/profile/schema.ts'
import { bundledProfiles } from '../../app/profiles/bundled.ts'
import { startBench } from '../../simulator/index.ts'
import { describePeers } from './peer.ts'

const run = promisify(execFile)
const script = fileURLToPath(new URL('pymodbus-functions.py', import.meta.url))
const bundled = bundledProfiles.get('two-pairs-float32-locked')!

const setting = { access: 'read-write', role: 'setting', kept: 'at-once', evidence: 'invented' } as const
const word = { table: 'holding', type: 'u16', order: 'AB', ...setting } as const
const live = { access: 'read', role: 'live', kept: 'never', evidence: 'invented' } as const

/** A unit with registers of every table, that knows every function. */
const everyFunction: Profile = profileSchema.parse({
  ...bundled,
  id: 'every-function',
  source: { ...bundled.source, document: 'practice sheet' },
  identity: { tests: [], compareWithPanel: [] },
  requests: { ...bundled.requests, writeWith: 'either', oneParameterAWrite: false },
  registers: [
    { name: 'identity.firmware', table: 'holding', address: 0, type: 'u16', order: 'AB', ...setting, access: 'read', role: 'identity' },
    ...[0, 1, 2].map((n) => ({ name: `option.${'abc'[n]}`, table: 'coil', address: n, type: 'u16', order: 'AB', ...setting })),
    ...[0, 1].map((n) => ({ name: `live.${'ab'[n]}`, table: 'discrete', address: n, type: 'u16', order: 'AB', ...live })),
    { name: 'live.status', table: 'input', address: 0, type: 'u16', order: 'AB', ...live },
    { name: 'option.word', address: 60, ...word },
    { name: 'option.small', address: 61, ...word, limits: { from: '0', to: '99' } },
    { name: 'value.float-high', ...word, address: 110, type: 'f32', order: 'ABCD' },
    { name: 'value.float-low', ...word, address: 112, type: 'f32', order: 'CDAB' },
    { name: 'value.integer-high', ...word, address: 114, type: 'i32', order: 'ABCD' },
    { name: 'value.integer-low', ...word, address: 116, type: 'i32', order: 'CDAB' },
  ],
  dependencies: [],
  commands: {},
  procedures: {},
})

/** Single floats: 2.5 is 4020 0000, -1.5 is bfc0 0000, 0.1 is 3dcc cccd (IEEE 754-2019, 3.4); -70000 is fffe ee90, 123456 is 0001 e240. */
const held = {
  'identity.firmware': [214],
  'option.a': [1],
  'option.word': [7],
  'option.small': [8],
  'value.float-high': [0x4020, 0],
  'value.float-low': [0, 0x4020],
  'value.integer-high': [0xfffe, 0xee90],
  'value.integer-low': [0xee90, 0xfffe],
}
const written = {
  'value.float-high': [0xbfc0, 0],
  'value.float-low': [0xcccd, 0x3dcc],
  'value.integer-high': [0xfffe, 0xee90],
  'value.integer-low': [0xe240, 0x0001],
}

describePeers(['pymodbus'], 'an outside master asks with every function', ({ pymodbus }) => {
  it.each(['rtu-over-tcp', 'modbus-tcp'] as const)('by %s, and is answered, or refused as the specification has it', async (kind) => {
    const indicator = { key: 'i', unit: 1, profile: everyFunction, words: held, points: [] }
    const bench = await startBench({ seed: 1, buses: [{ key: 'bus', link: { kind, port: 0 }, indicators: [indicator] }] })
    const address = bench.addressOf('bus')
    const port = 'port' in address ? String(address.port) : ''
    const { stdout } = await run(pymodbus, [script, kind, port], { timeout: 15_000 })
    expect(JSON.parse(stdout)).toEqual({
      '01': [true, false, false],
      '02': [false, false],
      '03': [7, 8],
      '04': [0],
      '05': ['done', [true, true, false]],
      '06': ['done', [0x12]],
      '08': [0xa537],
      '15': ['done', [false, true, true]],
      '17': expect.stringContaining('every-function'),
      // MODBUS Application Protocol V1.1b3, 6.16: 0012 with F2 and 25 is 0017.
      '22': ['done', [0x17]],
      // 6.17: writing comes before reading.
      '23': [0x17, 9],
      '43/14': { 0: 'practice sheet', 1: 'every-function', 2: '214' },
      'float, high word first': [2.5, 'done'],
      'float, low word first': [2.5, 'done'],
      'integer, high word first': [-70000, 'done'],
      'integer, low word first': [-70000, 'done'],
      // Chapter 7: 02 where there is no such address, 03 where the value cannot be.
      exceptions: [2, 2, 2, 3, 2, 2].map((exception) => ({ exception })),
    })
    expect(bench.settings('i')).toMatchObject(written)
    await bench.close()
  })
})
