import { afterEach, describe, expect, it } from 'vitest'
import type { SerialFormat } from '../../../app/profile/schema.ts'
import { openBus } from '../../../main/bus/open-bus.ts'
import { longestScanMs, planScan, type ScanOptions, type ScanStage, scan } from '../../../main/bus/scan.ts'
import { type Bench, startBench } from '../../../simulator/index.ts'
import { oneHopperBuses } from '../../builders/one-hopper.ts'

const even = (baud: number): SerialFormat => ({ baud, parity: 'even', stopBits: 1 })
const [slow, fast] = [even(9_600), even(19_200)]

describe('the order of a scan', () => {
  it("is the profile's default, address 1 in all formats, then the rest, and nothing twice", () => {
    expect(planScan({ formats: [fast, slow], units: [1, 2, 5], first: { format: slow, unit: 5 } })).toEqual([
      { format: slow, units: [5] },
      { format: slow, units: [1] },
      { format: fast, units: [1] },
      { format: slow, units: [2] },
      { format: fast, units: [2, 5] },
    ])
  })

  it('starts with address 1 where no indicator is expected', () => {
    expect(planScan({ formats: [fast], units: [2, 1] })).toEqual([
      { format: fast, units: [1] },
      { format: fast, units: [2] },
    ])
  })
})

it('takes at most two tries a unit and the listening before each stage', () => {
  // 9600 bit/s, 11 bits: 15 characters take 17.1875 ms and the silence of 3.5 takes 4.0104 ms
  // (MODBUS over Serial Line V1.02, 2.5.1.1); with twice 200 ms that is 421.198 ms a try.
  expect(longestScanMs([{ format: slow, units: [1] }], { listenMs: 2_000, answerMs: 200 })).toBeCloseTo(2_000 + 2 * 421.198, 2)
})

describe('on a line', () => {
  let bench: Bench
  afterEach(() => bench.close())

  async function start(unit: number): Promise<void> {
    const buses = oneHopperBuses({ kind: 'rtu-over-tcp', port: 0 }).map((bus) => ({
      ...bus,
      indicators: bus.indicators.map((i) => ({ ...i, unit })),
    }))
    bench = await startBench({ buses, seed: 1 })
  }

  /** Scans over the socket; `opened` is called with each format in which the line was opened. */
  function run(stages: ScanStage[], change: Partial<ScanOptions> & { listenMs?: number; opened?(format: SerialFormat): void } = {}) {
    const address = bench.addressOf('line-1')
    if ('path' in address) throw new Error('expected a socket')
    return scan(stages, {
      async open(format) {
        const bus = await openBus({ link: { kind: 'rtu-over-tcp', ...address, format } }, { listenMs: change.listenMs ?? 0 })
        change.opened?.(format)
        return bus
      },
      answerMs: 100,
      listenMs: 0,
      signal: new AbortController().signal,
      onAsk: () => {},
      onFound: () => {},
      ...change,
    })
  }

  it('finds the unit that answers, with reads only, and leaves other formats out once one is found', async () => {
    await start(3)
    const opened: SerialFormat[] = []
    const found: number[] = []
    const stages = planScan({ formats: [fast, slow], units: [2, 3] })
    const result = await run(stages, { opened: (format) => opened.push(format), onFound: (f) => found.push(f.unit) })
    expect(result).toMatchObject({ found: [{ unit: 3, format: fast }], unclear: [], asked: 2, endedBy: null })
    expect([found, opened]).toEqual([[3], [fast]])
    expect(bench.requests('ind-1').log.every((r) => r.kind === 'read')).toBe(true)
  })

  it('takes a refusal as an answer', async () => {
    await start(3)
    bench.inject('ind-1', { kind: 'exception', code: 2, times: 1 })
    expect(await run([{ format: fast, units: [3] }])).toMatchObject({ found: [{ unit: 3, tookMs: null }] })
  })

  it('does not take the silence behind a gateway for a unit', async () => {
    await start(3)
    bench.inject('ind-1', { kind: 'exception', code: 11, times: 2 })
    expect(await run([{ format: fast, units: [3] }])).toMatchObject({ found: [], asked: 1 })
  })

  it('ends when told to, with what was found until then', async () => {
    await start(3)
    const stop = new AbortController()
    const result = await run([{ format: fast, units: [3, 4, 5] }], {
      signal: stop.signal,
      onAsk: (asked) => {
        if (asked === 2) stop.abort()
      },
    })
    expect(result).toMatchObject({ found: [{ unit: 3 }], asked: 1, endedBy: { kind: 'stopped' } })
  })

  it('sends nothing where another master is heard while listening', async () => {
    await start(3)
    // A request of another master: read one holding register of unit 1.
    const foreign = [0x01, 0x03, 0x00, 0x00, 0x00, 0x01, 0x84, 0x0a]
    const result = await run([{ format: fast, units: [3] }], { listenMs: 1_500, onAsk: () => bench.disturb('line-1', foreign) })
    expect(result).toMatchObject({ found: [], endedBy: { kind: 'other-master' } })
    expect(bench.requests('ind-1').count).toBe(0)
  })
})
