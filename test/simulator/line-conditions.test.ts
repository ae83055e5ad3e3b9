import { existsSync, readdirSync, readlinkSync, realpathSync } from 'node:fs'
import { afterEach, describe, expect, it } from 'vitest'
import type { SerialFormat } from '../../app/profile/schema.ts'
import { type Bench, type BenchBus, type BenchLink, startBench } from '../../simulator/index.ts'
import { openPty } from '../../simulator/wire/open-pty.ts'
import { hex } from './bytes.ts'
import { openRaw, type RawLine } from './raw-line.ts'
import { lockedIndicator } from './unit/locked-indicator.ts'

// CRCs of this file were computed with an independent program (regression check).
const readModel = '01 03 00 00 00 01 84 0A'
const model = '01 03 02 51 51 44 28'
const readLock = '01 03 00 C8 00 01 05 F4'
const lockedNow = '01 03 02 00 00 B8 44'
const otherRequest = '09 03 00 00 00 02 C5 43'
const otherAnswers = ['09 03 04 00 00 00 01 B2 33', '09 03 04 00 00 00 02 F2 32']

const tcp: BenchLink = { kind: 'rtu-over-tcp', port: 0 }
const pty: BenchLink = { kind: 'pty', baud: 115_200, bitsPerCharacter: 10 }
const links = process.platform === 'linux' ? [tcp, pty] : [tcp]
const nominal: SerialFormat = { baud: 19_200, parity: 'none', stopBits: 1 }

const open: { close(): Promise<void> }[] = []
afterEach(async () => {
  for (const one of open.splice(0).reverse()) await one.close()
})

const start = async (bus: Partial<BenchBus> = {}): Promise<{ bench: Bench; line: RawLine }> => {
  const indicators = [{ ...lockedIndicator, format: nominal }]
  const bench = await startBench({ buses: [{ key: 'bus', link: tcp, indicators, ...bus }], seed: 1 })
  open.push(bench)
  const line = await openRaw(bench.addressOf('bus'))
  open.push(line)
  return { bench, line }
}

describe.each(links)('a line of $kind', (link) => {
  it('with local echo gives back what was sent, before the answer', async () => {
    const { bench, line } = await start({ link, line: { echo: true } })
    line.send(readModel)
    expect(await line.next(15)).toBe(`${readModel} ${model}`)
    bench.setLine('bus', {})
    line.send(readLock)
    expect(await line.next(7)).toBe(lockedNow)
  })

  it('with noise between frames has stray bytes after every answer', async () => {
    const { line } = await start({ link, line: { noise: { bytes: [0, 0xff], afterMs: 0 } } })
    for (const [request, answer] of [
      [readModel, model],
      [readLock, lockedNow],
    ] as const) {
      line.send(request)
      expect(await line.next(9)).toBe(`${answer} 00 FF`)
    }
  })

  it('carries another master that polls quickly', async () => {
    const { bench, line } = await start({ link })
    bench.setLine('bus', { otherMaster: { unit: 9, everyMs: 10 } })
    expect(await line.next(34)).toBe(`${otherRequest} ${otherAnswers[0]} ${otherRequest} ${otherAnswers[1]}`)
    expect(bench.requests('scale').count).toBe(0)
  })
})

describe.skipIf(process.platform !== 'linux')('an existing serial port', () => {
  it('carries another master as well', async () => {
    const pair = openPty()
    open.push(pair.wire)
    const heard: number[] = []
    const enough = new Promise<void>((resolve) =>
      pair.wire.onBytes((data) => {
        heard.push(...data)
        if (heard.length >= 17) resolve()
      }),
    )
    const link = { kind: 'serial-path', path: pair.path, baud: 19_200, bitsPerCharacter: 10 } as const
    const line = { otherMaster: { unit: 9, everyMs: 10_000 / 500 } }
    open.push(await startBench({ buses: [{ key: 'bus', link, line, indicators: [lockedIndicator] }], seed: 1 }))
    await enough
    expect(hex(heard.slice(0, 17))).toBe(`${otherRequest} ${otherAnswers[0]}`)
  })
})

describe('a master whose port is set otherwise', () => {
  it.each([
    ['half the speed', { ...nominal, baud: 9600 }],
    ['another parity', { ...nominal, parity: 'even' }],
  ] as const)('to %s gets no answer, and the indicator hears no request', async (_, masterFormat) => {
    const { bench, line } = await start({ line: { masterFormat } })
    line.send(readModel)
    await line.finish()
    bench.setLine('bus', { masterFormat: nominal })
    const again = await openRaw(bench.addressOf('bus'))
    open.push(again)
    again.send(readLock)
    expect(await again.next(7)).toBe(lockedNow)
    expect(bench.requests('scale').log).toEqual([{ kind: 'read', function: 3, address: 200, broadcast: false }])
  })

  it('hears garbage of others, the same each time', async () => {
    const masterFormat: SerialFormat = { ...nominal, baud: 38_400 }
    const hears = async () => {
      const { bench, line } = await start({ line: { masterFormat } })
      // Once somebody listens: what came before would be garbage that nobody hears.
      bench.setLine('bus', { masterFormat, otherMaster: { unit: 9, everyMs: 10 } })
      return line.next(8)
    }
    const heard = await hears()
    expect(heard).not.toBe(otherRequest)
    expect(await hears()).toBe(heard)
  })
})

describe('a bench over Modbus TCP', () => {
  it('has no such line: a programming mistake', async () => {
    const { bench } = await start({ link: { kind: 'modbus-tcp', port: 0 } })
    expect(() => bench.setLine('bus', { echo: true })).toThrow(RangeError)
  })
})

/** Empty where it was closed meanwhile, as the one that lists them all is. */
const linkOf = (path: string): string => {
  try {
    return readlinkSync(path)
  } catch {
    return ''
  }
}

describe.skipIf(process.platform !== 'linux')('an adapter', () => {
  it('pulled out takes its path along; put back it answers at the same path', async () => {
    const { bench, line } = await start({ link: { ...pty, adapter: true } as BenchLink })
    const address = bench.addressOf('bus')
    const path = 'path' in address ? address.path : ''
    line.send(readModel)
    expect(await line.next(7)).toBe(model)
    await bench.pullAdapter('bus')
    expect(existsSync(path)).toBe(false)
    await expect(openRaw(address)).rejects.toThrow()
    await line.close()
    bench.plugAdapter('bus')
    const again = await openRaw(bench.addressOf('bus'))
    open.push(again)
    expect(bench.addressOf('bus')).toEqual({ path })
    again.send(readLock)
    expect(await again.next(7)).toBe(lockedNow)
  })

  it('is pulled only once nothing of it is held open any more', async () => {
    const bench = await startBench({ buses: [{ key: 'bus', link: { ...pty, adapter: true } as BenchLink, indicators: [] }], seed: 1 })
    const address = bench.addressOf('bus')
    const device = realpathSync('path' in address ? address.path : '')
    const held = () => readdirSync('/proc/self/fd').some((fd) => linkOf(`/proc/self/fd/${fd}`).split(' ')[0] === device)
    expect(held()).toBe(true)
    await bench.pullAdapter('bus')
    expect(held()).toBe(false)
    await bench.close()
  })

  it('that the bus does not have cannot be pulled', async () => {
    const { bench } = await start()
    expect(() => bench.pullAdapter('bus')).toThrow(RangeError)
  })
})
