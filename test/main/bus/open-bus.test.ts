import { beforeEach, describe, expect, it } from 'vitest'
import { type OpenBus, openBus, runBus } from '../../../main/bus/open-bus.ts'
import type { Outcome } from '../../../main/bus/request.ts'
import { openRtuLink } from '../../../main/bus/rtu-link.ts'
import { bytes, fakeLine, framed, handClock } from '../../builders/fake-line.ts'

const format = { baud: 19_200, parity: 'even', stopBits: 1 } as const
/** MODBUS Application Protocol V1.1b3, 6.3. */
const read = { kind: 'read-registers', table: 'holding', address: 0x6b, count: 3 } as const
const goodAnswer = bytes('11 03 06 02 2B 00 00 00 64 C8 BA')
const foreign = framed('05 03 00 00 00 02')

let clock: ReturnType<typeof handClock>
let line: ReturnType<typeof fakeLine>
let bus: OpenBus
let states: string[]

beforeEach(async () => {
  clock = handClock()
  line = fakeLine()
  const link = await openRtuLink(line.open, format, clock)
  if (!link.ok) throw new Error(link.failure)
  bus = runBus(link.value, clock, 2000)
  states = []
  bus.onChange(() => states.push(bus.view().state))
})

function ask(): { outcome?: Outcome } {
  const settled: { outcome?: Outcome } = {}
  void bus.request(17, read, { priority: 'user', answerMs: 100 }).then((outcome) => {
    settled.outcome = outcome
  })
  return settled
}

describe('before the first byte', () => {
  it('the line is listened to for two seconds while requests wait', async () => {
    expect(bus.view().state).toBe('listening')
    const request = ask()
    await clock.advance(1999)
    expect(line.sent).toEqual([])
    await clock.advance(5)
    expect(bus.view().state).toBe('open')
    expect(line.sent).toHaveLength(1)
    await clock.advance(5)
    line.receive(goodAnswer)
    await clock.advance(300)
    expect(request.outcome).toMatchObject({ ok: true, value: { words: [555, 0, 100] } })
    expect(bus.view()).toMatchObject({ state: 'open', answering: 1, silent: 0 })
    expect(states).toEqual(['open', 'open'])
  })

  it('noise is no reason not to send', async () => {
    const request = ask()
    line.receive(bytes('00 FF 13 37'))
    await clock.advance(2010)
    expect(line.sent).toHaveLength(1)
    line.receive(goodAnswer)
    await clock.advance(0)
    expect(request.outcome).toMatchObject({ ok: true })
  })

  it("another master's request halts it: nothing is ever sent, and the view says why", async () => {
    const request = ask()
    await clock.advance(1500)
    line.receive(foreign.slice(0, 5))
    line.receive(foreign.slice(5))
    await clock.advance(10_000)
    const failure = { kind: 'other-master', bytes: Array.from(foreign, (b) => b.toString(16).padStart(2, '0')).join(' ') }
    expect(request.outcome).toEqual({ ok: false, failure })
    expect(line.sent).toEqual([])
    expect(bus.view()).toMatchObject({ state: 'halted', why: expect.stringContaining('Another master') })
    expect(await bus.request(17, read, { priority: 'user', answerMs: 100 })).toEqual({ ok: false, failure })
  })
})

describe('another master that polls seldom', () => {
  beforeEach(async () => {
    await clock.advance(2000)
  })

  it('halts sending whenever it is heard', async () => {
    await clock.advance(8000)
    line.receive(foreign)
    expect(bus.view().state).toBe('halted')
    expect(states).toContain('halted')
  })

  it('is heard in the middle of a request of ours', async () => {
    const request = ask()
    await clock.advance(5)
    line.receive(foreign)
    await clock.advance(300)
    expect(request.outcome).toMatchObject({ ok: false, failure: { kind: 'foreign' } })
    expect(bus.view().state).toBe('halted')
  })

  it('is listened for again after resume, before anything is sent', async () => {
    line.receive(foreign)
    bus.resume()
    expect(bus.view().state).toBe('listening')
    ask()
    await clock.advance(1900)
    expect(line.sent).toEqual([])
    line.receive(foreign)
    expect(bus.view().state).toBe('halted')
  })

  it('is told with the time of its last request, and whether that came while listening again', async () => {
    const heard = () => bus.view().otherMaster
    line.receive(foreign)
    expect(heard()).toEqual({ at: clock.now(), again: false })
    expect(bus.view().why).toContain('it asks unit 5 with function 3.')
    for (const listensForMs of [40, 1900]) {
      bus.resume()
      expect(bus.view().state).toBe('listening')
      await clock.advance(listensForMs)
      line.receive(foreign)
      expect(heard()).toEqual({ at: clock.now(), again: true })
    }
    await clock.advance(5000)
    expect(bus.view()).toMatchObject({ state: 'halted', otherMaster: { again: true } })
    bus.resume()
    await clock.advance(2000)
    expect([bus.view().state, heard()]).toEqual(['open', undefined])
  })
})

describe('stop and resume', () => {
  it('halts at once and says so; resume goes on without listening anew', async () => {
    await clock.advance(2000)
    bus.stop()
    expect(bus.view()).toMatchObject({ state: 'halted', why: expect.stringContaining('stopped') })
    expect(await bus.request(17, read, { priority: 'user', answerMs: 100 })).toEqual({ ok: false, failure: { kind: 'stopped' } })
    bus.resume()
    expect(bus.view().state).toBe('open')
    ask()
    await clock.advance(5)
    expect(line.sent).toHaveLength(1)
  })

  it('a request that waits out the quarantine of a silent one does not leave after stop', async () => {
    await clock.advance(2000)
    ask()
    // A read is tried twice: stop while the second try is still held back.
    await clock.advance(150)
    expect(line.sent).toHaveLength(1)
    bus.stop()
    await clock.advance(1000)
    expect(line.sent).toHaveLength(1)
  })
})

it('an adapter plugged in again is listened to again', async () => {
  await clock.advance(2000)
  line.lose('unplugged')
  expect(bus.view()).toMatchObject({ state: 'down', why: 'unplugged' })
  const request = ask()
  await clock.advance(0)
  expect(request.outcome).toEqual({ ok: false, failure: { kind: 'link-down', why: 'unplugged' } })
  await clock.advance(500)
  expect(bus.view().state).toBe('listening')
  await clock.advance(2000)
  expect(bus.view().state).toBe('open')
})

it('close settles what waits and leaves the bus closed', async () => {
  const waiting = ask()
  await bus.close()
  await clock.advance(0)
  expect(waiting.outcome).toMatchObject({ ok: false, failure: { kind: 'link-down' } })
  expect(bus.view().state).toBe('closed')
})

it('says which port is not there', async () => {
  const opened = await openBus({ link: { kind: 'serial', path: '/dev/there-is-no-such-port', format } })
  expect(opened).toMatchObject({ ok: false, failure: { kind: 'link-down', why: expect.stringContaining('There is no port') } })
})
