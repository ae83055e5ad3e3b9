import { afterEach, expect, it } from 'vitest'
import { createLineRemarks } from '../../../main/bus/line-remarks.ts'
import { openBus } from '../../../main/bus/open-bus.ts'
import { type Bench, type LineConditions, startBench } from '../../../simulator/index.ts'
import { oneHopperBuses } from '../../builders/one-hopper.ts'

const format = { baud: 115_200, parity: 'even', stopBits: 1 } as const
let bench: Bench
afterEach(() => bench.close())

/** What is said of the line after some reads under these conditions; every read is answered all the same. */
async function remarksAfter(reads: number, line: LineConditions): Promise<string[] | undefined> {
  bench = await startBench({ buses: oneHopperBuses({ kind: 'rtu-over-tcp', port: 0 }), seed: 1 })
  bench.setLine('line-1', line)
  const address = bench.addressOf('line-1')
  if ('path' in address) throw new Error('expected a socket')
  const bus = await openBus({ link: { kind: 'rtu-over-tcp', ...address, format } }, { listenMs: 0 })
  if (!bus.ok) throw new Error(JSON.stringify(bus.failure))
  for (let i = 0; i < reads; i++) {
    const request = { kind: 'read-registers', table: 'holding', address: 0, count: 1 } as const
    expect(await bus.value.request(1, request, { priority: 'user', answerMs: 500 })).toMatchObject({ ok: true })
  }
  const { remarks } = bus.value.view()
  await bus.value.close()
  return remarks
}

it('nothing is said of a good line', async () => {
  expect(await remarksAfter(5, {})).toBeUndefined()
})

it('local echo is recognised and named', async () => {
  expect(await remarksAfter(2, { echo: true })).toEqual([expect.stringContaining('local echo')])
})

it('noise between frames is recognised and named', async () => {
  expect(await remarksAfter(8, { noise: { bytes: [0, 0xff], afterMs: 0 } })).toEqual([expect.stringMatching(/^Stray bytes .*termination/)])
})

it('one stray piece now and then is no reason to look for a fault, and what was mended is not complained of for ever', () => {
  const remarks = createLineRemarks()
  remarks.received(['stray'])
  remarks.received(['stray'])
  expect(remarks.list()).toEqual([])
  remarks.received(['stray'])
  expect(remarks.list()).toEqual([expect.stringContaining('3 of the last 3 pieces')])
  for (let sound = 0; sound < 100; sound++) remarks.received([])
  expect(remarks.list()).toEqual([])
})
