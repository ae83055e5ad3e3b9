import { beforeEach, describe, expect, it } from 'vitest'
import type { Link, Outcome, Request, TappedFrame } from '../../../main/bus/request.ts'
import { openRtuLink } from '../../../main/bus/rtu-link.ts'
import { bytes, fakeLine, framed, handClock } from '../../builders/fake-line.ts'

/** 8N1 at 9600: a character takes 1.042 ms, a request of 8 bytes 8.33 ms, an answer of 11 bytes 11.46 ms. */
const format = { baud: 9600, parity: 'none', stopBits: 1 } as const
const read: Request = { kind: 'read-registers', table: 'holding', address: 0x6b, count: 3 }
const goodAnswer = bytes('11 03 06 02 2B 00 00 00 64 C8 BA')
const staleAnswer = framed('11 03 06 00 01 00 01 00 01')
const write: Request = { kind: 'write-register', address: 1, word: 3 }
const writeFrame = bytes('11 06 00 01 00 03 9A 9B')

let clock: ReturnType<typeof handClock>
let line: ReturnType<typeof fakeLine>
let link: Link
let tapped: TappedFrame[]
let unasked: Uint8Array[]

beforeEach(async () => {
  clock = handClock()
  line = fakeLine()
  const opened = await openRtuLink(line.open, format, clock)
  if (!opened.ok) throw new Error(opened.failure)
  link = opened.value
  tapped = []
  unasked = []
  link.onTap((frame) => tapped.push(frame))
  link.onUnasked((b) => unasked.push(b))
})

/** Starts a request; the outcome appears in the returned object once it is there. */
function ask(
  request: Request = read,
  { unit = 17, maySend = () => true }: { unit?: number; maySend?: () => boolean } = {},
): { outcome?: Outcome } {
  const settled: { outcome?: Outcome } = {}
  void link.transact(unit, request, 100, maySend).then((outcome) => {
    settled.outcome = outcome
  })
  return settled
}

/** One read that is answered when the request has left the wire, so that the line is known to keep its bit rate and have no echo. */
async function goodRead(): Promise<void> {
  const first = ask()
  await clock.advance(10)
  line.receive(goodAnswer)
  await clock.advance(10)
  expect(first.outcome).toMatchObject({ ok: true })
}

describe('the deadline', () => {
  it('is the request on the wire, the answer time, and the longest answer on the wire', async () => {
    const request = ask()
    // 8 + 11 characters of 10 bits at 9600, and 100 ms: 119.79 ms.
    await clock.advance(119.7)
    expect(request.outcome).toBeUndefined()
    await clock.advance(0.2)
    expect(request.outcome).toMatchObject({ ok: false, failure: { kind: 'no-reply', tries: 1 } })
  })

  it('is not moved by bytes that keep coming', async () => {
    const request = ask()
    for (let at = 0; at < 119; at++) {
      line.receive(Uint8Array.of(0xff))
      await clock.advance(1)
    }
    expect(request.outcome).toBeUndefined()
    line.receive(Uint8Array.of(0xff))
    await clock.advance(1)
    expect(request.outcome).toMatchObject({ ok: false, failure: { kind: 'garbled' } })
  })

  it('keeps no more of an endless noise than a few frames', async () => {
    const request = ask()
    await clock.advance(10)
    for (let i = 0; i < 50; i++) line.receive(new Uint8Array(1000).fill(0xaa))
    line.receive(goodAnswer)
    await clock.advance(0)
    expect(request.outcome).toMatchObject({ ok: true, value: { words: [555, 0, 100] } })
    expect(Math.max(...tapped.map((f) => f.bytes.length))).toBeLessThanOrEqual(768)
  })
})

describe('a late answer', () => {
  /** Asks again; the answer to an earlier request comes before this one can have left the wire, and its own after that. */
  async function expectLateAnswerNotTaken(): Promise<void> {
    const next = ask()
    await clock.advance(5)
    line.receive(staleAnswer)
    await clock.advance(10)
    expect(next.outcome).toBeUndefined()
    line.receive(goodAnswer)
    await clock.advance(0)
    expect(next.outcome).toMatchObject({ ok: true, value: { words: [555, 0, 100] } })
  }

  it('that comes after the quarantine, before the next request can have left the wire, is not taken', async () => {
    await goodRead()
    const silent = ask()
    await clock.advance(130)
    expect(silent.outcome).toMatchObject({ ok: false, failure: { kind: 'no-reply' } })
    await clock.advance(200)

    await expectLateAnswerNotTaken()
    expect(tapped.map((f) => f.note)).toContain('late answer to an earlier request, not taken')
  })

  it('that comes so is not taken either while another unit has been silent since', async () => {
    await goodRead()
    ask()
    await clock.advance(330)
    ask(read, { unit: 18 })
    await clock.advance(330)
    await expectLateAnswerNotTaken()
  })

  it('ends the quarantine when it comes, since nothing is owed any more', async () => {
    const silent = ask()
    await clock.advance(130)
    expect(silent.outcome).toBeDefined()
    ask()
    await clock.advance(20)
    expect(line.sent).toHaveLength(1)
    line.receive(staleAnswer)
    await clock.advance(10)
    expect(line.sent).toHaveLength(2)
    expect(tapped.map((f) => f.note)).toContain('late answer to an earlier request')
  })

  it('is waited for one answer time, whichever unit is asked next', async () => {
    ask()
    await clock.advance(120)
    ask(read, { unit: 18 })
    await clock.advance(98)
    expect(line.sent).toHaveLength(1)
    await clock.advance(3)
    expect(line.sent).toHaveLength(2)
  })
})

describe('on a way that does not keep the bit rate, as a socket straight to the indicator', () => {
  /** Answered 2 ms after it was asked, when the request could not have left a line of 9600 bit/s. */
  async function answerAtOnce(): Promise<void> {
    await clock.advance(2)
    line.receive(goodAnswer)
    await clock.advance(0)
  }

  it('a unit is heard though another one, asked first, was silent', async () => {
    ask(read, { unit: 18 })
    await clock.advance(330)
    const next = ask()
    await answerAtOnce()
    expect(next.outcome).toMatchObject({ ok: true, value: { words: [555, 0, 100] } })
  })

  it('a unit that was silent is heard again with the second answer at the latest', async () => {
    ask()
    await clock.advance(330)
    const refused = ask()
    await answerAtOnce()
    expect(refused.outcome).toBeUndefined()
    await clock.advance(330)
    expect(refused.outcome).toMatchObject({ ok: false, failure: { kind: 'no-reply' } })
    const next = ask()
    await answerAtOnce()
    expect(next.outcome).toMatchObject({ ok: true, value: { words: [555, 0, 100] } })
  })

  it('is not taken for one where the answer proper came later, if only during the quarantine', async () => {
    ask()
    await clock.advance(330)
    const refused = ask()
    await clock.advance(2)
    line.receive(staleAnswer)
    await clock.advance(150)
    expect(refused.outcome).toMatchObject({ ok: false })
    line.receive(goodAnswer)
    await clock.advance(330)
    ask()
    await clock.advance(330)
    const next = ask()
    await clock.advance(2)
    line.receive(staleAnswer)
    await clock.advance(0)
    expect(next.outcome).toBeUndefined()
  })
})

describe('a write whose answer repeats the request', () => {
  it('is not done by its echo while the line is not known', async () => {
    const first = ask(write)
    await clock.advance(10)
    line.receive(writeFrame)
    await clock.advance(200)
    expect(first.outcome).toMatchObject({ ok: false, failure: { kind: 'garbled' } })
  })

  it('is done by the first copy on a line without echo', async () => {
    await goodRead()
    const next = ask(write)
    await clock.advance(20)
    line.receive(writeFrame)
    await clock.advance(0)
    expect(next.outcome).toMatchObject({ ok: true, value: { kind: 'done' } })
  })

  it('also where bits are read whose answer could be their request', async () => {
    // Function 01, address 0x0300, 19 bits: as an answer the request would carry 3 bytes of bits.
    const bitsRead: Request = { kind: 'read-bits', table: 'coil', address: 0x0300, count: 19 }
    const request = ask(bitsRead)
    await clock.advance(10)
    line.receive(framed('11 01 03 00 00 13'))
    await clock.advance(5)
    expect(request.outcome).toBeUndefined()
    line.receive(framed('11 01 03 CD 6B 05'))
    await clock.advance(0)
    expect(request.outcome).toMatchObject({ ok: true, value: { kind: 'bits' } })
  })
})

describe('before the first byte leaves', () => {
  it('a request that may no longer be sent is stopped, and nothing leaves', async () => {
    ask()
    await clock.advance(130)
    let may = true
    const waiting = ask(read, { maySend: () => may })
    may = false
    await clock.advance(300)
    expect(waiting.outcome).toEqual({ ok: false, failure: { kind: 'stopped' } })
    expect(line.sent).toHaveLength(1)
  })

  it('a line that is never silent is given up instead of sent into', async () => {
    await goodRead()
    line.receive(Uint8Array.of(0x55))
    const waiting = ask()
    for (let i = 0; i < 600; i++) {
      line.receive(Uint8Array.of(0x55))
      await clock.advance(2)
    }
    expect(waiting.outcome).toMatchObject({ ok: false, failure: { kind: 'garbled' } })
    expect(line.sent).toHaveLength(1)
  })

  it('a second request at the same time is a mistake of the program', async () => {
    ask()
    await expect(link.transact(17, read, 100)).rejects.toThrow('already on the line')
  })
})

it('a broadcast is done after the turn-around time, without an answer', async () => {
  // MODBUS over Serial Line V1.02, 2.1 and 2.4.1: unit 0, no answer, typically 100 to 200 ms of turn-around.
  const request = ask(write, { unit: 0 })
  await clock.advance(100)
  expect(request.outcome).toBeUndefined()
  await clock.advance(20)
  expect(request.outcome).toMatchObject({ ok: true, value: { kind: 'done' } })
})

it('bytes before the answer and after it are reported as not asked for, the answer is not', async () => {
  const request = ask()
  await clock.advance(10)
  line.receive(Uint8Array.of(0x00, ...goodAnswer, 0xfe))
  await clock.advance(0)
  expect(request.outcome).toMatchObject({ ok: true })
  expect(unasked).toEqual([Uint8Array.of(0x00), Uint8Array.of(0xfe)])
})

it('the tap has both directions with the time of the last byte', async () => {
  ask()
  await clock.advance(12)
  line.receive(goodAnswer.slice(0, 4))
  await clock.advance(3)
  line.receive(goodAnswer.slice(4))
  expect(tapped).toEqual([
    { at: 0, direction: 'sent', bytes: bytes('11 03 00 6B 00 03 76 87') },
    { at: 15, direction: 'received', bytes: goodAnswer },
  ])
})
