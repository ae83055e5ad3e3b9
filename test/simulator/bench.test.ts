import { afterEach, describe, expect, it } from 'vitest'
import { type Bench, type BenchLink, type Fault, startBench } from '../../simulator/index.ts'
import { openRaw, type RawLine } from './raw-line.ts'
import { lockedIndicator } from './unit/locked-indicator.ts'

// CRCs of this file were computed with an independent program (regression check).
const readModel = '01 03 00 00 00 01 84 0A'
const model = '01 03 02 51 51 44 28'
const readLock = '01 03 00 C8 00 01 05 F4'
const lockedNow = '01 03 02 00 00 B8 44'
const unlock = '01 10 00 C8 00 01 02 5A A5 4C C3'
const unlockedAnswer = '01 10 00 C8 00 01 80 37'

const open: { close(): Promise<void> }[] = []
afterEach(async () => {
  for (const one of open.splice(0).reverse()) await one.close()
})

const start = async (link: BenchLink = { kind: 'rtu-over-tcp', port: 0 }): Promise<{ bench: Bench; line: RawLine }> => {
  const bench = await startBench({ buses: [{ key: 'bus', link, indicators: [lockedIndicator] }], seed: 1 })
  open.push(bench)
  const line = await openRaw(bench.addressOf('bus'))
  open.push(line)
  return { bench, line }
}

const lengthOf = (text: string): number => text.split(' ').length

describe('a bench over a socket', () => {
  /** What comes back to reading the model, then the lock, where the first one meets the fault. */
  const impaired: readonly [Fault, string][] = [
    [{ kind: 'silent', times: 1 }, lockedNow],
    [{ kind: 'answer-lost', times: 1 }, lockedNow],
    [{ kind: 'wrong-crc', times: 1 }, `01 03 02 51 51 44 7D ${lockedNow}`],
    [{ kind: 'truncated', times: 1 }, `01 03 02 51 ${lockedNow}`],
    [{ kind: 'twice', times: 1 }, `${model} ${model} ${lockedNow}`],
    [{ kind: 'foreign-unit', times: 1 }, `02 03 02 51 51 00 28 ${lockedNow}`],
    [{ kind: 'echo', times: 1 }, `${readModel} ${model} ${lockedNow}`],
    [{ kind: 'noise', bytes: [0, 0xff], times: 1 }, `00 FF ${model} ${lockedNow}`],
    [{ kind: 'exception', code: 6, times: 1 }, `01 83 06 C1 32 ${lockedNow}`],
    [{ kind: 'late', byMs: 60, times: 1 }, `${lockedNow} ${model}`],
  ]

  it.each(impaired)('makes the fault %o once', async (fault, answers) => {
    const { bench, line } = await start()
    bench.inject('scale', fault)
    line.send(readModel)
    line.send(readLock)
    expect(await line.next(lengthOf(answers))).toBe(answers)
    line.send(readModel)
    expect(await line.next(lengthOf(model))).toBe(model)
    expect(line.rest()).toBe('')
  })

  it('carries out what a lost answer was to, and not what a silent unit did not hear', async () => {
    const { bench, line } = await start()
    bench.inject('scale', { kind: 'silent', times: 1 })
    line.send(unlock)
    line.send(readLock)
    expect(await line.next(7)).toBe(lockedNow)
    bench.inject('scale', { kind: 'answer-lost', times: 1 })
    line.send(unlock)
    line.send(readLock)
    expect(await line.next(7)).toBe('01 03 02 00 01 79 84')
  })

  it('counts a fault down with the requests', async () => {
    const { bench, line } = await start()
    bench.inject('scale', { kind: 'silent', times: 2 })
    for (const request of [readModel, readModel, readLock]) line.send(request)
    expect(await line.next(7)).toBe(lockedNow)
  })

  it('loses requests while the cable is off', async () => {
    const { bench, line } = await start()
    line.send(readModel)
    expect(await line.next(7)).toBe(model)
    bench.pull('bus')
    line.send(readModel)
    await line.finish()
    bench.plug('bus')
    expect(bench.requests('scale').count).toBe(1)
    const again = await openRaw(bench.addressOf('bus'))
    open.push(again)
    again.send(readModel)
    expect(await again.next(7)).toBe(model)
    expect(bench.requests('scale').count).toBe(2)
  })

  it('hears nothing while the power is off, and is locked when it comes back', async () => {
    const { bench, line } = await start()
    line.send(unlock)
    expect(await line.next(8)).toBe(unlockedAnswer)
    bench.power('scale', false)
    line.send(readModel)
    await line.finish()
    bench.power('scale', true)
    expect(bench.requests('scale').count).toBe(1)
    const again = await openRaw(bench.addressOf('bus'))
    open.push(again)
    again.send(readLock)
    expect(await again.next(7)).toBe(lockedNow)
  })

  it('logs what it heard', async () => {
    const { bench, line } = await start()
    line.send(readModel)
    line.send(unlock)
    await line.next(15)
    expect(bench.requests('scale')).toEqual({
      count: 2,
      log: [
        { kind: 'read', function: 3, address: 0, broadcast: false },
        { kind: 'write', function: 16, address: 200, broadcast: false },
      ],
    })
  })

  it('has every indicator carry out a broadcast, and none answer it', async () => {
    const indicators = [lockedIndicator, { ...lockedIndicator, key: 'second', unit: 2 }]
    const bench = await startBench({ buses: [{ key: 'bus', link: { kind: 'rtu-over-tcp', port: 0 }, indicators }], seed: 1 })
    open.push(bench)
    const line = await openRaw(bench.addressOf('bus'))
    open.push(line)
    line.send('00 10 00 C8 00 01 02 5A A5 41 53')
    line.send('02 03 00 C8 00 01 05 C7')
    expect(await line.next(7)).toBe('02 03 02 00 01 3D 84')
    line.send(readLock)
    expect(await line.next(7)).toBe('01 03 02 00 01 79 84')
    expect(bench.requests('second').log[0]).toEqual({ kind: 'write', function: 16, address: 200, broadcast: true })
  })

  it('lets a stranger speak on the bus', async () => {
    const { bench, line } = await start()
    line.send(readModel)
    await line.next(7)
    bench.disturb('bus', [0x05, 0x03, 0x00])
    expect(await line.next(3)).toBe('05 03 00')
  })

  it('knows its loads, and no keys that were not given', async () => {
    const { bench } = await start()
    bench.setLoad('scale', 1, 12.5)
    expect(bench.loads()).toEqual([{ indicator: 'scale', channel: 1, load: 12.5, unit: 'kg' }])
    expect(() => bench.setLoad('scale', 2, 1)).toThrow(RangeError)
    expect(() => bench.settings('other')).toThrow(RangeError)
    expect(() => bench.addressOf('other')).toThrow(RangeError)
    expect(() => bench.panel('scale', 'no.such', [0])).toThrow(RangeError)
  })
})

describe('a bench over Modbus TCP', () => {
  it('answers with the transaction number, or a wrong one where it should', async () => {
    const { bench, line } = await start({ kind: 'modbus-tcp', port: 0 })
    line.send('00 07 00 00 00 06 01 03 00 00 00 01')
    expect(await line.next(11)).toBe('00 07 00 00 00 05 01 03 02 51 51')
    bench.inject('scale', { kind: 'wrong-crc', times: 1 })
    line.send('00 08 00 00 00 06 01 03 00 00 00 01')
    expect(await line.next(11)).toBe('55 5D 00 00 00 05 01 03 02 51 51')
  })
})

describe.skipIf(process.platform !== 'linux')('a bench on a pseudo-terminal', () => {
  it('answers a port that is closed and opened again', async () => {
    const { bench, line } = await start({ kind: 'pty', baud: 115_200, bitsPerCharacter: 11 })
    line.send(readModel)
    expect(await line.next(7)).toBe(model)
    await line.close()
    open.pop()
    const again = await openRaw(bench.addressOf('bus'))
    open.push(again)
    again.send(readLock)
    expect(await again.next(7)).toBe(lockedNow)
  })

  it('carries every byte value unchanged', async () => {
    const { bench, line } = await start({ kind: 'pty', baud: 921_600, bitsPerCharacter: 10 })
    const all = Array.from({ length: 256 }, (_, i) => i)
    line.send(readModel)
    await line.next(7)
    bench.disturb('bus', all)
    expect(await line.next(256)).toBe(all.map((byte) => byte.toString(16).padStart(2, '0').toUpperCase()).join(' '))
  })
})

describe('a bench with the same seed and clock', () => {
  it('has the same noise', async () => {
    const run = async (seed: number) => {
      let now = 0
      const noisy = { ...lockedIndicator, points: lockedIndicator.points.map((point) => ({ ...point, noiseMicrovolt: 5 })) }
      const bench = await startBench({
        buses: [{ key: 'bus', link: { kind: 'rtu-over-tcp', port: 0 }, indicators: [noisy] }],
        seed,
        clock: () => now,
      })
      const line = await openRaw(bench.addressOf('bus'))
      now = 1000
      line.send('01 04 00 03 00 02 81 CB')
      const answer = await line.next(9)
      await line.close()
      await bench.close()
      return answer
    }
    expect(await run(3)).toBe(await run(3))
    expect(await run(3)).not.toBe(await run(4))
  })
})

describe('a bench that contradicts itself', () => {
  it('is refused', async () => {
    const bus = { key: 'a', link: { kind: 'rtu-over-tcp', port: 0 }, indicators: [lockedIndicator] } as const
    await expect(startBench({ buses: [bus, { ...bus, key: 'b' }], seed: 1 })).rejects.toThrow(RangeError)
    const strange = { ...lockedIndicator, words: { 'no.such': [0] } }
    await expect(startBench({ buses: [{ ...bus, indicators: [strange] }], seed: 1 })).rejects.toThrow('no register no.such')
  })
})
