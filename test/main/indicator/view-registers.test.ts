import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { viewRegisters } from '../../../app/profile/register-view.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { type OpenBus, openBus } from '../../../main/bus/open-bus.ts'
import { viewBlock } from '../../../main/indicator/view-registers.ts'
import { type Bench, startBench } from '../../../simulator/index.ts'

const profile = bundledProfiles.get('two-pairs-float32-locked')!
let bench: Bench
let bus: OpenBus

beforeAll(async () => {
  // 1.5452 mV/V is 3F C5 C9 1D as a single float (IEEE 754-2019), high word first.
  const words = { 'scale.upper.signal@1': [0x3fc5, 0xc91d], 'identity.firmware': [214] }
  const indicator = { key: 'ind', unit: 1, profile, words, points: [], gaps: 'refuse' as const }
  bench = await startBench({ buses: [{ key: 'line', link: { kind: 'modbus-tcp', port: 0 }, indicators: [indicator] }], seed: 1 })
  const address = bench.addressOf('line')
  if (!('port' in address)) throw new Error('the bench has no socket')
  const opened = await openBus({ link: { kind: 'modbus-tcp', host: address.host, port: address.port } }, { listenMs: 0 })
  if (!opened.ok) throw new Error(JSON.stringify(opened.failure))
  bus = opened.value
})
afterAll(async () => {
  await bus?.close()
  await bench?.close()
})

const view = (address: number, count: number) => viewBlock(bus, 1, { table: 'holding', address, count, answerMs: 500 })

describe('viewing the registers of a unit that nobody has described', () => {
  it('brings a block whole where all of it is there', async () => {
    expect(await view(114, 2)).toMatchObject({ ok: true, value: { words: [0x3fc5, 0xc91d] } })
  })

  it('asks for less where part of it is not there, and says which', async () => {
    const seen = await view(108, 12)
    if (!seen.ok) throw new Error(JSON.stringify(seen.failure))
    const { words } = seen.value
    expect(words).toHaveLength(12)
    // Registers at 110 to 117; none at 108, 109, 118, 119.
    expect(words.map((w) => w !== null)).toEqual([false, false, true, true, true, true, true, true, true, true, false, false])
    expect(viewRegisters(108, words, '1.5452').filter((c) => c.agrees !== 'no')).toMatchObject([
      { address: 114, type: 'f32', order: 'ABCD', text: '1.5452', agrees: 'exact' },
    ])
  })

  it('asks in pieces where the unit allows only short reads', async () => {
    const seen = await view(0, 130)
    expect(seen.ok && seen.value.words).toHaveLength(130)
    expect(seen.ok && seen.value.words.slice(0, 2)).toEqual([20817, 214])
  })

  it('writes nothing', () => {
    expect(bench.requests('ind').log.filter((r) => r.kind !== 'read')).toEqual([])
  })

  it('ends with any other refusal', async () => {
    bench.inject('ind', { kind: 'exception', code: 4, times: 1 })
    expect(await view(114, 8)).toEqual({ ok: false, failure: { kind: 'refused', code: 4 } })
  })
})
