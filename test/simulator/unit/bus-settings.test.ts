import { afterEach, describe, expect, it } from 'vitest'
import { type Profile, profile as profileSchema } from '../../../app/profile/schema.ts'
import { startBench } from '../../../simulator/index.ts'
import { openRaw } from '../raw-line.ts'
import { lockedIndicator, lockedProfile, startLocked } from './locked-indicator.ts'

type Effect = 'now' | 'after-save' | 'after-restart'

/** The locked model without its lock, with an address, a speed and a parity at 300 to 302. */
const withBus = (takesEffect: Effect): Profile => {
  const { unlock: _, ...procedures } = lockedProfile.procedures
  const common = {
    table: 'holding',
    type: 'u16',
    order: 'AB',
    access: 'read-write',
    role: 'setting',
    kept: 'after-save',
    takesEffect,
    evidence: 'invented',
  }
  const options = (...means: string[]) => means.map((text, raw) => ({ raw, means: text }))
  return profileSchema.parse({
    ...lockedProfile,
    procedures,
    registers: [
      ...lockedProfile.registers,
      { ...common, name: 'bus.address', address: 300, limits: { from: '1', to: '247' } },
      { ...common, name: 'bus.baud', address: 301, options: options('9600', '19200', '38400') },
      { ...common, name: 'bus.parity', address: 302, options: options('none', 'even', 'odd') },
    ],
  })
}

const write = (address: 'address' | 'baud' | 'parity', value: number) =>
  `10 01 ${{ address: '2C', baud: '2D', parity: '2E' }[address]} 00 01 02 00 ${value.toString(16).padStart(2, '0')}`
const save = '10 00 C9 00 01 02 00 01'

describe('address and line format in registers', () => {
  it('start as the unit hangs on the bus: address 1, 19 200, even', () => {
    const { ask, indicator } = startLocked({ profile: withBus('now') })
    expect(ask('03 01 2C 00 03')).toBe('03 06 00 01 00 01 00 01')
    expect(indicator.bus()).toEqual({ unit: 1, format: { baud: 19_200, parity: 'even', stopBits: 1 } })
  })

  it('found in the saved memory count, whatever the bench calls the unit', () => {
    const { indicator } = startLocked({ profile: withBus('now'), words: { 'bus.address': [12], 'bus.parity': [2] } })
    expect(indicator.bus()).toEqual({ unit: 12, format: { baud: 19_200, parity: 'odd', stopBits: 1 } })
  })

  it('that take effect now are followed at once', () => {
    const { ask, indicator } = startLocked({ profile: withBus('now') })
    ask(write('address', 5))
    ask(write('baud', 2))
    ask(write('parity', 0))
    expect(indicator.bus()).toEqual({ unit: 5, format: { baud: 38_400, parity: 'none', stopBits: 1 } })
  })

  it('that take effect after saving are followed then', () => {
    const { ask, indicator, wait } = startLocked({ profile: withBus('after-save') })
    ask(write('address', 5))
    expect(indicator.bus().unit).toBe(1)
    ask(save)
    wait(300)
    expect(indicator.bus().unit).toBe(5)
  })

  it('that take effect after a restart are followed then, if they were saved', () => {
    const { ask, indicator, wait } = startLocked({ profile: withBus('after-restart') })
    ask(write('address', 5))
    ask(save)
    wait(300)
    ask(write('baud', 2))
    expect(indicator.bus().unit).toBe(1)
    indicator.power(false)
    indicator.power(true)
    expect(indicator.bus()).toMatchObject({ unit: 5, format: { baud: 19_200 } })
  })

  it('of a model without such registers are what the bench says', () => {
    const format = { baud: 4800, parity: 'odd', stopBits: 1 } as const
    expect(startLocked({ format }).indicator.bus()).toEqual({ unit: 1, format })
  })
})

describe('on the line', () => {
  const open: { close(): Promise<void> }[] = []
  afterEach(async () => {
    for (const one of open.splice(0).reverse()) await one.close()
  })

  const start = async () => {
    const indicators = [{ ...lockedIndicator, profile: withBus('now') }]
    const bench = await startBench({ buses: [{ key: 'bus', link: { kind: 'rtu-over-tcp', port: 0 }, indicators }], seed: 1 })
    open.push(bench)
    const line = await openRaw(bench.addressOf('bus'))
    open.push(line)
    return { bench, line }
  }
  // CRCs of this file were computed with an independent program (regression check).
  const readModel = '01 03 00 00 00 01 84 0A'

  it('a new address answers the write at the old one, then only at the new one', async () => {
    const { bench, line } = await start()
    line.send('01 10 01 2C 00 01 02 00 05 71 3F')
    expect(await line.next(8)).toBe('01 10 01 2C 00 01 C1 FC')
    line.send(readModel)
    line.send('05 03 00 00 00 01 85 8E')
    expect(await line.next(7)).toBe('05 03 02 51 51 B5 E8')
    expect(bench.requests('scale').count).toBe(2)
  })

  it('a new speed answers the write at the old one, then only a master that follows', async () => {
    const { bench, line } = await start()
    line.send('01 10 01 2D 00 01 02 00 00 B0 ED')
    expect(await line.next(8)).toBe('01 10 01 2D 00 01 90 3C')
    line.send(readModel)
    await line.finish()
    expect(bench.requests('scale').count).toBe(1)
    bench.setLine('bus', { masterFormat: { baud: 9600, parity: 'even', stopBits: 1 } })
    const again = await openRaw(bench.addressOf('bus'))
    open.push(again)
    again.send(readModel)
    expect(await again.next(7)).toBe('01 03 02 51 51 44 28')
  })
})
