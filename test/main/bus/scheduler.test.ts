import { beforeEach, describe, expect, it } from 'vitest'
import type { BusFailure } from '../../../app/contract/bus-failure.ts'
import { fail, ok } from '../../../app/result.ts'
import type { Outcome, Request } from '../../../main/bus/request.ts'
import { createScheduler, type Priority, type RequestOptions, type Scheduler } from '../../../main/bus/scheduler.ts'
import { handClock } from '../../builders/fake-line.ts'

type Asked = { unit: number; request: Request; withinMs: number; maySend: () => boolean; settle(outcome: Outcome): void }

const read = (address = 0): Request => ({ kind: 'read-registers', table: 'holding', address, count: 1 })
const write: Request = { kind: 'write-register', address: 0, word: 1 }

let clock: ReturnType<typeof handClock>
/** What reached the line, in order. */
let asked: Asked[]
let scheduler: Scheduler

beforeEach(() => {
  clock = handClock()
  asked = []
  scheduler = createScheduler(
    {
      transact: (unit, request, withinMs, maySend = () => true) =>
        new Promise((settle) => {
          asked.push({ unit, request, withinMs, maySend, settle })
        }),
    },
    clock,
  )
})

function request(
  unit: number,
  what: Request = read(),
  priority: Priority = 'live',
  more: Partial<RequestOptions> = {},
): { outcome?: Outcome } {
  const settled: { outcome?: Outcome } = {}
  void scheduler.request(unit, what, { priority, answerMs: 100, ...more }).then((outcome) => {
    settled.outcome = outcome
  })
  return settled
}

const answer = (tookMs = 10): Outcome => ok({ kind: 'words', words: [1], at: clock.now(), tookMs })
const noReply: BusFailure = { kind: 'no-reply', waitedMs: 100, tries: 1 }

/** Lets the request on the line end, and gives the next one its turn. */
async function end(outcome: Outcome = answer()): Promise<void> {
  const open = asked.at(-1)
  if (!open) throw new Error('nothing is on the line')
  open.settle(outcome)
  await clock.advance(0)
}

async function silence(unit: number, requests: number): Promise<void> {
  for (let i = 0; i < requests; i++) {
    request(unit, write)
    await clock.advance(0)
    await end(fail(noReply))
  }
}

describe('order', () => {
  it('has one request on the line at a time', async () => {
    request(1)
    request(2)
    expect(asked.map((a) => a.unit)).toEqual([1])
    await end()
    expect(asked.map((a) => a.unit)).toEqual([1, 2])
  })

  it('takes user before capture before live, whoever came first', async () => {
    request(1)
    request(2, read(), 'live')
    request(3, read(), 'capture')
    request(4, read(), 'user')
    for (let i = 0; i < 3; i++) await end()
    expect(asked.map((a) => a.unit)).toEqual([1, 4, 3, 2])
  })

  it('goes round between units, so that one with many requests does not hold up the others', async () => {
    for (let i = 0; i < 3; i++) request(1, read(i))
    request(2)
    request(3)
    for (let i = 0; i < 4; i++) await end()
    expect(asked.map((a) => a.unit)).toEqual([1, 2, 3, 1, 1])
  })

  it('keeps the order of the requests to one unit', async () => {
    for (let i = 0; i < 4; i++) request(1, read(i))
    for (let i = 0; i < 3; i++) await end()
    expect(asked.map((a) => a.request)).toEqual([read(0), read(1), read(2), read(3)])
  })
})

describe('trying again', () => {
  it.each<BusFailure>([noReply, { kind: 'garbled', bytes: '01' }, { kind: 'foreign', bytes: '01' }])(
    'reads are asked once more after $kind',
    async (failure) => {
      const outcome = request(1)
      await end(fail(failure))
      expect(asked).toHaveLength(2)
      await end()
      expect(outcome.outcome).toMatchObject({ ok: true })
    },
  )

  it('says both tries and the time of both when neither was answered', async () => {
    const outcome = request(1)
    await end(fail(noReply))
    await end(fail(noReply))
    expect(asked).toHaveLength(2)
    expect(outcome.outcome).toEqual(fail({ kind: 'no-reply', waitedMs: 200, tries: 2 }))
  })

  it.each<Request>([
    write,
    { kind: 'write-registers', address: 0, words: [1] },
    { kind: 'write-coil', address: 0, on: true },
    { kind: 'write-coils', address: 0, on: [true] },
    { kind: 'mask-write', address: 0, and: 0, or: 1 },
  ])('$kind is never asked again: it may have been done', async (what) => {
    const outcome = request(1, what, 'user')
    await end(fail(noReply))
    expect(asked).toHaveLength(1)
    expect(outcome.outcome).toEqual(fail(noReply))
  })

  it('a refusal is an answer', async () => {
    const outcome = request(1)
    await end(fail({ kind: 'refused', code: 2 }))
    expect(asked).toHaveLength(1)
    expect(outcome.outcome).toEqual(fail({ kind: 'refused', code: 2 }))
    expect(scheduler.figures()).toEqual({ answering: 1, silent: 0 })
  })
})

describe('stop', () => {
  it('settles what waits at once, keeps what is on the wire, and lets nothing more leave', async () => {
    const onTheWire = request(1, write, 'user')
    const waiting = request(2, write, 'user')
    scheduler.halt({ kind: 'stopped' })
    await clock.advance(0)
    expect(waiting.outcome).toEqual(fail({ kind: 'stopped' }))
    expect(onTheWire.outcome).toBeUndefined()
    expect(asked[0]?.maySend()).toBe(false)
    await end()
    expect(onTheWire.outcome).toMatchObject({ ok: true })
    const later = request(3)
    await clock.advance(0)
    expect(later.outcome).toEqual(fail({ kind: 'stopped' }))
    expect(asked).toHaveLength(1)
  })

  it('does not ask a read again', async () => {
    const outcome = request(1)
    scheduler.halt({ kind: 'stopped' })
    await end(fail(noReply))
    expect(asked).toHaveLength(1)
    expect(outcome.outcome).toEqual(fail(noReply))
  })

  it('says another master where that is why the request was held back on the link', async () => {
    const outcome = request(1)
    scheduler.halt({ kind: 'other-master', bytes: '01 03' })
    await end(fail({ kind: 'stopped' }))
    expect(outcome.outcome).toEqual(fail({ kind: 'other-master', bytes: '01 03' }))
  })

  it('is over with resume', async () => {
    scheduler.halt({ kind: 'stopped' })
    scheduler.resume()
    const outcome = request(1)
    await end()
    expect(outcome.outcome).toMatchObject({ ok: true })
  })

  it('of one request by its signal settles it while it waits', async () => {
    const control = new AbortController()
    request(1)
    const waiting = request(2, read(), 'live', { signal: control.signal })
    control.abort()
    await clock.advance(0)
    expect(waiting.outcome).toEqual(fail({ kind: 'stopped' }))
    await end()
    expect(asked).toHaveLength(1)
  })
})

it('holds requests without settling them, and goes on when released', async () => {
  scheduler.hold()
  const outcome = request(1)
  await clock.advance(1000)
  expect(asked).toHaveLength(0)
  expect(outcome.outcome).toBeUndefined()
  scheduler.release()
  expect(asked).toHaveLength(1)
})

describe('a silent unit', () => {
  it('is set aside after three silent tries; live requests to it are turned away at once and say when it is asked again', async () => {
    await silence(1, 3)
    const turnedAway = request(1)
    await clock.advance(0)
    // A time-out of 100 ms and as much rest for a late answer, 60 times: 12 s, longer than 5 s.
    expect(turnedAway.outcome).toEqual(fail({ kind: 'set-aside', nextProbeInMs: 12_000 }))
    expect(asked).toHaveLength(3)
    expect(scheduler.figures()).toEqual({ answering: 0, silent: 1 })
  })

  it('does not hold up the others', async () => {
    await silence(1, 3)
    request(1)
    const other = request(2)
    await clock.advance(0)
    await end()
    expect(other.outcome).toMatchObject({ ok: true })
  })

  it('is probed when its time has come, once, with three times its first answer time', async () => {
    await silence(1, 3)
    await clock.advance(12_000)
    const probe = request(1)
    expect(asked.at(-1)?.withinMs).toBe(300)
    await end(fail({ kind: 'no-reply', waitedMs: 300, tries: 1 }))
    expect(asked).toHaveLength(4)
    expect(probe.outcome).toMatchObject({ ok: false, failure: { kind: 'no-reply' } })
    const next = request(1)
    await clock.advance(0)
    expect(next.outcome).toEqual(fail({ kind: 'set-aside', nextProbeInMs: 36_000 }))
  })

  it('is probed with three times its learned answer time where it has answered before, no oftener than 60 times what that costs', async () => {
    request(1)
    await end(answer(40))
    for (let i = 0; i < 3; i++) {
      request(1, write)
      await end(fail({ kind: 'no-reply', waitedMs: 50, tries: 1 }))
    }
    const turnedAway = request(1)
    await clock.advance(0)
    // 50 ms of waiting and 100 ms of rest, 60 times.
    expect(turnedAway.outcome).toEqual(fail({ kind: 'set-aside', nextProbeInMs: 9000 }))
    await clock.advance(9000)
    request(1)
    expect(asked.at(-1)?.withinMs).toBe(120)
  })

  it('is probed with three times its own answer time, since the characters on the wire are waited for anyway', async () => {
    request(1)
    await end(ok({ kind: 'words', words: [1], at: clock.now(), tookMs: 100, ownMs: 15 }))
    await silence(1, 3)
    // The probe and the rest after it cost 90 ms, 60 times.
    await clock.advance(5399)
    const turnedAway = request(1)
    await clock.advance(1)
    expect(turnedAway.outcome).toEqual(fail({ kind: 'set-aside', nextProbeInMs: 1 }))
    request(1)
    expect(asked.at(-1)?.withinMs).toBe(45)
  })

  it('is never probed so shortly that a late system would miss its answer; every 5 s at most', async () => {
    request(1)
    await end(answer(1))
    await silence(1, 3)
    await clock.advance(5000)
    request(1)
    expect(asked.at(-1)?.withinMs).toBe(20)
  })

  it('is asked at once for a user, for the whole answer time and twice, however soon it used to answer', async () => {
    request(1)
    await end(answer(4))
    await silence(1, 3)
    const before = asked.length
    request(1, read(), 'user')
    expect(asked).toHaveLength(before + 1)
    expect(asked.at(-1)?.withinMs).toBe(100)
    await end(fail(noReply))
    expect(asked).toHaveLength(before + 2)
    expect(asked.at(-1)?.withinMs).toBe(100)
  })

  it('is back with its first answer', async () => {
    await silence(1, 3)
    request(1, read(), 'user')
    await end()
    request(1)
    expect(asked).toHaveLength(5)
    expect(asked.at(-1)?.withinMs).toBe(100)
    expect(scheduler.figures()).toMatchObject({ answering: 1, silent: 0 })
  })

  // Exceptions of a gateway: MODBUS Application Protocol V1.1b3, section 7.
  it.each([10, 11])('behind a gateway that says so (exception %i) is silent too', async (code) => {
    for (let i = 0; i < 3; i++) {
      request(1)
      await end(fail({ kind: 'refused', code }))
    }
    const turnedAway = request(1)
    await clock.advance(0)
    expect(turnedAway.outcome).toMatchObject({ ok: false, failure: { kind: 'set-aside' } })
  })
})

it('the median answer time is that of what was measured', async () => {
  for (const tookMs of [12, 500, 10, 14]) {
    request(1)
    await end(answer(tookMs))
  }
  expect(scheduler.figures()).toEqual({ answering: 1, silent: 0, answerMs: 13 })
})

it('leaves a unit the pause that it needs after its last answer, whoever asked then', async () => {
  const clock = handClock()
  const sentAt: number[] = []
  const transact = async (): Promise<Outcome> => {
    sentAt.push(clock.now())
    return { ok: true, value: { kind: 'words', words: [1], at: clock.now(), tookMs: 1 } }
  }
  const scheduler = createScheduler({ transact }, clock)
  const read = { kind: 'read-registers', table: 'holding', address: 0, count: 1 } as const
  void scheduler.request(1, read, { priority: 'live', answerMs: 100, pauseMs: 50 })
  void scheduler.request(1, read, { priority: 'user', answerMs: 100, pauseMs: 50 })
  await clock.advance(200)
  expect(sentAt).toEqual([0, 50])
})
