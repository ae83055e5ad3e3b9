import { readdirSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { startBench } from '../../../simulator/index.ts'
import { bundledProfile, plainPoint, startBundled } from './bundled-unit.ts'

// Every expected reading was worked by hand from the sensor (500 kg give 1 mV/V) and the settings given.

describe('a table of pairs', () => {
  /** 0, 1 and 2 mV/V are 0, 400 and 1000 kg: single floats, low word first. What follows the third pair does not count. */
  const start = () =>
    startBundled('pair-table-float32', {
      'scale.table.count@1': [3],
      'scale.table.2.signal@1': [0, 0x3f80],
      'scale.table.2.reading@1': [0, 0x43c8],
      'scale.table.3.signal@1': [0, 0x4000],
      'scale.table.3.reading@1': [0, 0x447a],
    })

  it.each([
    ['the first line: 0.5 mV/V, 200 kg', 250, '00 00 43 48'],
    ['a pair itself: 1 mV/V, 400 kg', 500, '00 00 43 C8'],
    ['the second line: 1.5 mV/V, 400 + 0.5 x 600 = 700 kg', 750, '00 00 44 2F'],
    ['beyond the last pair: 2.5 mV/V, 1000 + 0.5 x 600 = 1300 kg', 1250, '80 00 44 A2'],
    ['before the first pair: -0.5 mV/V, -200 kg', -250, '00 00 C3 48'],
  ])('reads on %s', (_, load, words) => {
    const { ask, settle } = start()
    settle(load)
    expect(ask('04 00 00 00 02')).toBe(`04 04 ${words}`)
  })

  it('whose signals do not rise is a fault', () => {
    const { ask, indicator } = start()
    expect(ask('04 00 06 00 02')).toBe('04 04 00 00 40 00')
    indicator.panel('scale.table.3.signal@1', [0, 0x3f80])
    // Fault is bit 4; bit 30 says locked.
    expect(ask('04 00 06 00 02')).toBe('04 04 00 10 40 00')
  })

  it('is kept in steps of the unit: what is read back is near what was written, not the same', () => {
    const { ask } = start()
    ask('10 00 C8 00 01 02 12 34')
    ask('10 00 C8 00 01 02 56 78')
    // 1.2 mV/V as a single is 3F99 999A. In steps of 2 to the power of -17 it is 157286 steps, 1.19999695, 3F99 9980: off by 0.0000031.
    expect(ask('10 00 68 00 02 04 99 9A 3F 99')).toBe('10 00 68 00 02')
    expect(ask('03 00 68 00 02')).toBe('03 04 99 80 3F 99')
  })
})

describe('slope and intercept', () => {
  /** 500 kg per mV/V, -50 kg; bytes exchanged in each word. */
  const start = () =>
    startBundled('slope-intercept-float32', {
      'reading.unit@1': [0x0500],
      'scale.slope@1': [0xfa43, 0],
      'scale.intercept@1': [0x48c2, 0],
    })

  it('read slope x signal + intercept: 500 x 1 - 50 = 450 kg', () => {
    const { ask, settle } = start()
    settle(500)
    expect(ask('04 00 00 00 02')).toBe('04 04 E1 43 00 00')
  })

  it('count after saving: with a slope of 1000 then 1000 x 1 - 50 = 950 kg', () => {
    const { ask, settle, wait } = start()
    settle(500)
    ask('05 00 00 FF 00')
    expect(ask('10 00 0A 00 02 04 7A 44 00 00')).toBe('10 00 0A 00 02')
    expect(ask('04 00 00 00 02')).toBe('04 04 E1 43 00 00')
    ask('05 00 02 FF 00')
    wait(100)
    expect(ask('04 00 00 00 02')).toBe('04 04 6D 44 00 80')
  })
})

describe('capacity and rated output', () => {
  it('read (signal - zero balance) x capacity / rated output: (1.05 - 0.05) x 1000 / 2.5 = 400 kg', () => {
    const { ask, settle } = startBundled(
      'capacity-rated-output-function-06',
      { 'input.range@1': [1], 'scale.capacity@1': [1000], 'scale.rated-output@1': [25_000], 'scale.zero-balance@1': [500] },
      [{ sensors: [{ capacity: 1000, ratedOutputMvPerV: 2, zeroMvPerV: 0.05 }] }],
    )
    settle(500)
    expect(ask('03 00 14 00 01')).toBe('03 02 01 90')
    expect(ask('06 00 07 00 00')).toBe('06 00 07 00 00')
    // Without the zero balance 1.05 x 400 = 420 kg.
    expect(ask('03 00 14 00 01')).toBe('03 02 01 A4')
  })
})

describe('converter counts', () => {
  /** Range 20 mV = 8 388 607 counts; 0 counts are 0 kg, 4 194 304 counts are 800 kg; bytes all exchanged. */
  const start = (excitationVolt: number) =>
    startBundled(
      'counts-millivolt-input',
      { 'input.range@1': [1], 'scale.upper.counts@1': [0, 0x4000], 'scale.upper.reading@1': [0, 0x4844] },
      [{ excitationVolt }],
    )

  it('are scaled: 0.5 mV/V at 10 V is 5 mV, 2 097 152 counts, 400 kg', () => {
    const { ask, settle } = start(10)
    settle(250)
    expect(ask('04 00 0A 00 06')).toBe('04 0C 00 00 20 00 00 00 C8 43 00 00 A0 40')
  })

  it('know no excitation: 0.5 mV/V at 5 V is 2.5 mV, half of it', () => {
    const { ask, settle } = start(5)
    settle(250)
    expect(ask('04 00 0A 00 06')).toBe('04 0C 00 00 10 00 00 00 48 43 00 00 20 40')
  })
})

describe('learning under load', () => {
  const start = () => startBundled('applied-load-capture', {})
  const learnLower = '10 00 1E 00 01 02 00 15'
  const learnUpper = '10 00 1E 00 01 02 00 16'

  it('takes the present signal for the reading typed: 0.2 mV/V is 0, 1.2 mV/V is 750, so 0.7 mV/V is 375 kg', () => {
    const { ask, settle, wait } = start()
    settle(100)
    expect(ask(learnLower)).toBe('10 00 1E 00 01')
    expect(ask('03 00 1F 00 01')).toBe('03 02 00 01')
    wait(5000)
    expect(ask('03 00 1F 00 01')).toBe('03 02 00 00')
    settle(600)
    ask('10 00 0A 00 02 04 00 00 02 EE')
    ask(learnUpper)
    wait(5000)
    // 20 000 and 120 000 with five decimals.
    expect(ask('03 00 0C 00 04')).toBe('03 08 00 00 4E 20 00 01 D4 C0')
    settle(350)
    expect(ask('03 00 14 00 02')).toBe('03 04 00 00 01 77')
  })

  it('is lost at power-off until it is saved', () => {
    const { ask, settle, wait, indicator } = start()
    settle(600)
    ask(learnUpper)
    wait(5000)
    expect(indicator.settings()['scale.upper.signal@1']).toEqual([1, 0xd4c0])
    indicator.power(false)
    indicator.power(true)
    expect(indicator.settings()['scale.upper.signal@1']).toEqual([0, 0])
  })

  it('takes back a zero: the load learned as 0 reads 0', () => {
    const { ask, settle, wait } = startBundled('applied-load-capture', {
      'scale.upper.signal@1': [3, 0x0d40],
      'scale.upper.reading@1': [0, 1000],
    })
    settle(100)
    ask('10 00 1E 00 01 02 00 01')
    expect(ask('03 00 14 00 02')).toBe('03 04 00 00 00 00')
    ask(learnLower)
    wait(5000)
    expect(ask('03 00 14 00 02')).toBe('03 04 00 00 00 00')
  })

  it('is refused out of range: exception 04', () => {
    const { ask, settle } = start()
    settle(2500)
    expect(ask(learnUpper)).toBe('90 04')
  })

  it('cannot be written: the signals are read only', () => {
    const { ask } = start()
    expect(ask('10 00 0C 00 02 04 00 00 00 01')).toBe('90 02')
  })
})

describe('typing at the front panel', () => {
  it('scales pairs: 0 to 2 mV/V are 0 to 1000 kg, so 1 mV/V is 500.0 kg on the bus', () => {
    const { ask, settle, indicator, shown } = startBundled('reading-alone-on-the-bus', {})
    settle(500)
    expect(shown()).toBe(undefined)
    indicator.panel('scale.upper.signal@1', [0, 2000])
    indicator.panel('scale.upper.reading@1', [0, 1000])
    expect(ask('04 00 00 00 01')).toBe('04 02 13 88')
    // The same digits with one decimal are 100.0 kg.
    indicator.panel('reading.decimals@1', [0, 1])
    expect(ask('04 00 00 00 01')).toBe('04 02 01 F4')
    expect(indicator.settings()['scale.upper.reading@1']).toEqual([0, 1000])
  })

  it('counts intervals in steps of the last digit: 166.7 in steps of 0.5 is 166.5', () => {
    const { settle, indicator, shown } = startBundled('reading-alone-on-the-bus', {
      'reading.decimals@1': [0, 1],
      'scale.upper.signal@1': [0, 3000],
      'scale.upper.reading@1': [0, 5000],
    })
    settle(500)
    indicator.panel('reading.interval@1', [0, 2])
    expect(shown()).toBe(166.5)
  })

  it('is not possible over the bus', () => {
    const { ask } = startBundled('reading-alone-on-the-bus', {})
    expect(ask('06 00 00 00 01')).toBe('86 02')
  })

  it('scales capacity and rated output of a meter without a bus: 1 x 500 / 2.5 = 200 kN', () => {
    const { settle, indicator, shown, unitShown } = startBundled('front-panel-only', {})
    settle(500)
    indicator.panel('scale.capacity@1', [0, 5000])
    indicator.panel('scale.rated-output@1', [0, 25_000])
    expect(shown()).toBe(200)
    expect(unitShown()).toBe('kN')
    expect(indicator.listens()).toBe(false)
  })

  it('shows dashes while the power is off', () => {
    const { indicator, shown } = startBundled('front-panel-only', { 'scale.capacity@1': [0, 5000], 'scale.rated-output@1': [0, 25_000] })
    expect(shown()).toBe(0)
    indicator.power(false)
    expect(shown()).toBe(undefined)
  })
})

describe('the shunt of an indicator', () => {
  // 100 000 ohm across one arm of 350 ohm: 1000 x 350 / (4 x 100 000 + 2 x 350) = 0.873471 mV/V, circuit theory.
  const start = (sensors: number) =>
    startBundled('slope-intercept-float32', { 'scale.slope@1': [0x803f, 0] }, [
      {
        shunt: { ohms: 100_000, bridgeOhms: 350 },
        sensors: Array.from({ length: sensors }, () => ({ capacity: 1000, ratedOutputMvPerV: 2, zeroMvPerV: 0 })),
      },
    ])

  it('steps the signal by 0.873471 mV/V, says so in its status, and goes again', () => {
    const { ask, wait, shown } = start(1)
    expect(ask('05 00 01 FF 00')).toBe('05 00 01 FF 00')
    wait(1000)
    expect(shown()).toBeCloseTo(0.873471, 5)
    // Bit 3 shunt-on, bit 4 locked; bytes exchanged.
    expect(ask('04 00 04 00 01')).toBe('04 02 18 00')
    ask('05 00 01 00 00')
    wait(1000)
    expect(shown()).toBe(0)
    expect(ask('04 00 04 00 01')).toBe('04 02 10 00')
  })

  it('across two sensors in parallel steps less: 1000 x 175 / (4 x 100 000 + 2 x 175) = 0.437118 mV/V', () => {
    const { ask, wait, shown } = start(2)
    ask('05 00 01 FF 00')
    wait(1000)
    expect(shown()).toBeCloseTo(0.437118, 5)
  })

  it('that the bench does not have is refused: exception 04', () => {
    const { ask } = startBundled('slope-intercept-float32', {})
    expect(ask('05 00 01 FF 00')).toBe('85 04')
  })
})

describe('every bundled model', () => {
  const ids = readdirSync(new URL('../../../app/profiles/', import.meta.url)).flatMap(
    (name) => /^(.*)\.profile\.json$/.exec(name)?.[1] ?? [],
  )

  it.each(ids)('%s starts on the bench', async (id) => {
    const profile = bundledProfile(id)
    const points = Array.from({ length: profile.channels }, (_, i) => ({ ...plainPoint, channel: i + 1 }))
    const indicators = [{ key: 'unit', unit: 1, profile, words: {}, points }]
    const bench = await startBench({ buses: [{ key: 'bus', link: { kind: 'rtu-over-tcp', port: 0 }, indicators }], seed: 1 })
    expect(Object.keys(bench.settings('unit')).length).toBeGreaterThan(0)
    expect(bench.display('unit', 1)).toHaveProperty('reading')
    await bench.close()
  })
})
