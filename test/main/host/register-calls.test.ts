import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { TopicValue } from '../../../app/contract/contract.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'
import { hopperB, jobWithoutHopperB } from '../../builders/undescribed.ts'

let practice: PracticeHost
beforeAll(async () => {
  practice = await startPracticeHost({ job: jobWithoutHopperB() })
})
afterAll(() => practice.close())

const call: PracticeHost['host']['call'] = (name, request) => practice.host.call(name, request)
const onDisplay = () => Number(practice.bench.display('ind-2', 1).reading).toFixed(2)
const searchView = () => practice.host.topics.get('registerSearch', 'bus-1/5')

/** The display stands still for as long as the same text is shown again and again. */
async function steadyDisplay(load: number): Promise<string> {
  practice.bench.setLoad('ind-2', 1, load)
  let shown = ''
  await expect
    .poll(
      () => {
        const [before, now] = [shown, onDisplay()]
        shown = now
        return before === now
      },
      { interval: 400, timeout: 20_000 },
    )
    .toBe(true)
  return shown
}

describe('looking at the registers of a unit that is not in the job', () => {
  it('gives words where there are registers and null where there are none, and remembers the gaps', async () => {
    const block = { ...hopperB, table: 'holding', from: 36, count: 16 } as const
    const seen = value(await call('registers.view', { ...block, again: false }))
    expect(seen.words.map((w) => w !== null)).toEqual(
      [36, 37, 38, 39]
        .map(() => false)
        .concat(
          [40, 41, 42, 43, 44, 45, 46, 47].map(() => true),
          [false, false, true, true],
        ),
    )
    // 68130 is 0x00010A22: two's complement, low word first.
    expect(seen.words.slice(8, 10)).toEqual([0x0a22, 0x0001])
    const before = practice.bench.requests('ind-2').log.length
    expect(value(await call('registers.view', { ...block, again: true })).words).toEqual(seen.words)
    const again = practice.bench.requests('ind-2').log.slice(before)
    // 40 to 47 in two pieces of eight and four, 50 and 51 in one: none in vain.
    expect(again.length).toBeLessThanOrEqual(4)
    expect(again.every((r) => r.kind === 'read')).toBe(true)
  })

  it('says what is wrong with a bus that is not there, closed, or stopped', async () => {
    const block = { unit: 5, table: 'holding', from: 0, count: 2, again: false } as const
    expect(await call('registers.view', { ...block, busId: 'bus-9' })).toMatchObject({ ok: false, failure: { where: 'busId' } })
    value(await call('bus.close', { busId: 'bus-2' }))
    expect(await call('registers.view', { ...block, busId: 'bus-2' })).toMatchObject({
      ok: false,
      failure: { kind: 'refused-request', why: expect.stringContaining('not open') },
    })
    value(await call('bus.open', { busId: 'bus-2' }))
    value(await call('sending.stop', {}))
    expect(await call('registers.view', { ...block, busId: 'bus-1' })).toEqual({ ok: false, failure: { kind: 'stopped' } })
    value(await call('sending.resume', {}))
  })
})

describe('the place that a display follows', () => {
  it('is found over a range, and a second look under another load leaves only it', async () => {
    const display = await steadyDisplay(400)
    const first = value(await call('registers.search', { ...hopperB, table: 'holding', from: 0, to: 160, display }))
    expect(first).toMatchObject({ state: 'ended', looks: 1, asked: 161, of: 161 })
    expect(first.candidates).toContainEqual(expect.objectContaining({ address: 100, type: 'i32', order: 'CDAB', decimals: 2 }))
    const again = value(await call('registers.search-again', { ...hopperB, display: await steadyDisplay(250) }))
    expect(again).toMatchObject({ state: 'ended', looks: 2 })
    expect(new Set(again.candidates.map((c) => c.address))).toEqual(new Set([100]))
    expect(again.of).toBeLessThan(first.of)
    expect(searchView()).toEqual(again)
    // Low word first: the first register alone is a number too, but as that it agreed at no look before.
    const { words } = value(await call('registers.view', { ...hopperB, table: 'holding', from: 100, count: 2, again: false }))
    const alone = value(await call('registers.search-again', { ...hopperB, display: String(words[0]) }))
    expect(alone).toMatchObject({ looks: 3, agreeing: 0, candidates: [] })
    expect(practice.bench.requests('ind-2').log.every((r) => r.kind === 'read')).toBe(true)
  }, 60_000)

  it('is found where the two registers of a value come in different requests', async () => {
    // The silo unit holds 1190000 (0x00122870) from 208 on; the first request of this range ends at 208.
    const range = { busId: 'bus-2', unit: 1, table: 'holding', from: 89, to: 260, display: '1.190000' } as const
    const found = value(await call('registers.search', range))
    expect(found.candidates).toContainEqual(
      expect.objectContaining({ address: 208, type: 'i32', order: 'ABCD', decimals: 6, words: [0x0012, 0x2870], agrees: 'exact' }),
    )
  })

  it('is not looked for by 0, which every empty register shows', async () => {
    const asked = call('registers.search', { ...hopperB, table: 'holding', from: 0, to: 10, display: '0.00' })
    expect(await asked).toMatchObject({ ok: false, failure: { where: 'display' } })
  })

  it('a search says how far it is, and ends where it is when it is cancelled; a second one has to wait', async () => {
    const range = { ...hopperB, table: 'holding', from: 0, to: 65_535, display: '1.5' } as const
    const underWay = new Promise<TopicValue<'registerSearch'>>((resolve) => {
      const leave = practice.host.topics.subscribe((m) => {
        const view = m.kind === 'topic' && m.topic === 'registerSearch' ? (m.value as TopicValue<'registerSearch'>) : undefined
        if (view?.state !== 'running' || view.asked === 0) return
        leave()
        resolve(view)
      })
    })
    const searching = call('registers.search', range)
    const { leftMs, ...soFar } = await underWay
    expect(soFar).toMatchObject({ asked: 120, of: 65_536 })
    // 545 stretches like the first are still to come.
    expect(leftMs).toBeGreaterThan(545)
    expect(await call('registers.search', range)).toMatchObject({ ok: false, failure: { why: expect.stringContaining('under way') } })
    value(await call('registers.cancel', hopperB))
    expect(value(await searching)).toMatchObject({ state: 'cancelled' })
    expect(await call('registers.cancel', hopperB)).toMatchObject({ ok: false })
  })

  it('a search over a unit that is not there fails and says so', async () => {
    const searching = call('registers.search', { busId: 'bus-1', unit: 44, table: 'holding', from: 0, to: 500, display: '1.5' })
    expect(await searching).toMatchObject({ ok: false, failure: { kind: 'no-reply' } })
    expect(practice.host.topics.get('registerSearch', 'bus-1/44')).toMatchObject({
      state: 'failed',
      why: expect.stringContaining('No answer'),
    })
  })
})

describe('the longest read that is answered', () => {
  it('is found by reading, and a refusal beyond the last register is not taken for a limit', async () => {
    // Registers stand at 40 to 47; 48 is none.
    expect(value(await call('registers.probe-longest', { ...hopperB, table: 'holding', from: 40 }))).toEqual({
      longest: 8,
      refused: { count: 9, why: expect.stringContaining('no such register'), perhapsNoMoreRegisters: true },
    })
  })

  it('fails where nothing can be read', async () => {
    expect(await call('registers.probe-longest', { ...hopperB, table: 'holding', from: 0 })).toMatchObject({
      ok: false,
      failure: { kind: 'refused', code: 2 },
    })
  })
})
