import { beforeEach, describe, expect, it } from 'vitest'
import type { Link, Outcome, Request } from '../../../main/bus/request.ts'
import { openRtuLink } from '../../../main/bus/rtu-link.ts'
import { bytes, fakeLine, framed, handClock } from '../../builders/fake-line.ts'

const format = { baud: 19_200, parity: 'even', stopBits: 1 } as const
/** Read holding registers 108 to 110 of unit 17. MODBUS Application Protocol V1.1b3, 6.3. */
const read: Request = { kind: 'read-registers', table: 'holding', address: 0x6b, count: 3 }
const readFrame = bytes('11 03 00 6B 00 03 76 87')
const goodAnswer = bytes('11 03 06 02 2B 00 00 00 64 C8 BA')
const words = [555, 0, 100]

let clock: ReturnType<typeof handClock>
let line: ReturnType<typeof fakeLine>
let link: Link

beforeEach(async () => {
  clock = handClock()
  line = fakeLine()
  const opened = await openRtuLink(line.open, format, clock)
  if (!opened.ok) throw new Error(opened.failure)
  link = opened.value
  await clock.advance(50)
})

async function ask(request: Request = read, answerMs = 200): Promise<{ outcome: () => Outcome | undefined }> {
  let outcome: Outcome | undefined
  void link.transact(17, request, answerMs).then((o) => {
    outcome = o
  })
  await clock.advance(10)
  return { outcome: () => outcome }
}

describe('one transaction', () => {
  it('sends the published frame and takes its published answer', async () => {
    const { outcome } = await ask()
    expect(line.sent).toEqual([readFrame])
    line.receive(goodAnswer)
    await clock.advance(0)
    expect(outcome()).toMatchObject({ ok: true, value: { kind: 'words', words } })
  })

  it('puts an answer together from pieces', async () => {
    const { outcome } = await ask()
    for (const byte of goodAnswer) {
      line.receive(Uint8Array.of(byte))
      await clock.advance(1)
    }
    expect(outcome()).toMatchObject({ ok: true, value: { words } })
  })

  it('says refused with the code of an exception', async () => {
    const { outcome } = await ask()
    line.receive(framed('11 83 02'))
    await clock.advance(0)
    expect(outcome()).toEqual({ ok: false, failure: { kind: 'refused', code: 2 } })
  })

  it('says no reply after the deadline, and noise does not move the deadline', async () => {
    const quiet = await ask()
    await clock.advance(400)
    expect(quiet.outcome()).toMatchObject({ ok: false, failure: { kind: 'no-reply' } })

    await clock.advance(1_000)
    const noisy = await ask()
    for (let i = 0; i < 40; i++) {
      line.receive(Uint8Array.of(0x55))
      await clock.advance(10)
    }
    expect(noisy.outcome()).toMatchObject({ ok: false, failure: { kind: 'garbled' } })
  })

  it('refuses a wrong CRC, another unit, another function and another length', async () => {
    for (const wrong of [
      bytes('11 03 06 02 2B 00 00 00 64 C8 BB'),
      framed('12 03 06 02 2B 00 00 00 64'),
      framed('11 04 06 02 2B 00 00 00 64'),
      framed('11 03 04 02 2B 00 00'),
    ]) {
      const { outcome } = await ask()
      line.receive(wrong)
      await clock.advance(1_000)
      expect(outcome()).toMatchObject({ ok: false, failure: { kind: expect.stringMatching(/garbled|foreign/) } })
    }
  })

  it('takes the right answer that follows a foreign one', async () => {
    const { outcome } = await ask()
    line.receive(framed('12 03 06 00 01 00 02 00 03'))
    line.receive(goodAnswer)
    await clock.advance(0)
    expect(outcome()).toMatchObject({ ok: true, value: { words } })
  })

  it('says truncated answers are garbled', async () => {
    const { outcome } = await ask()
    line.receive(goodAnswer.slice(0, 6))
    await clock.advance(1_000)
    expect(outcome()).toMatchObject({ ok: false, failure: { kind: 'garbled' } })
  })

  it('does not take a write as done when address, value or quantity in the answer differ', async () => {
    const write: Request = { kind: 'write-registers', address: 1, words: [10, 0x102] }
    for (const wrong of [framed('11 10 00 01 00 01'), framed('11 10 00 02 00 02')]) {
      const { outcome } = await ask(write)
      line.receive(wrong)
      await clock.advance(1_000)
      expect(outcome()).toMatchObject({ ok: false, failure: { kind: 'foreign' } })
    }
    const { outcome } = await ask(write)
    line.receive(bytes('11 10 00 01 00 02 12 98'))
    await clock.advance(0)
    expect(outcome()).toMatchObject({ ok: true, value: { kind: 'done' } })
  })
})

describe('late and doubled answers', () => {
  it('does not give the late answer of one request to the next of the same shape', async () => {
    const first = await ask()
    await clock.advance(250)
    expect(first.outcome()).toMatchObject({ ok: false, failure: { kind: 'no-reply' } })

    const second = await ask()
    // Still in quarantine: the second request has not left, and the late answer goes nowhere.
    expect(line.sent).toHaveLength(1)
    line.receive(framed('11 03 06 00 01 00 01 00 01'))
    await clock.advance(20)
    expect(line.sent).toHaveLength(2)
    line.receive(goodAnswer)
    await clock.advance(0)
    expect(second.outcome()).toMatchObject({ ok: true, value: { words } })
  })

  it('does not take the second copy of an answer for the next one', async () => {
    const first = await ask()
    line.receive(goodAnswer)
    line.receive(goodAnswer)
    await clock.advance(0)
    expect(first.outcome()).toMatchObject({ ok: true })
    await clock.advance(50)
    const second = await ask()
    expect(second.outcome()).toBeUndefined()
    line.receive(framed('11 03 06 00 01 00 01 00 01'))
    await clock.advance(0)
    expect(second.outcome()).toMatchObject({ ok: true, value: { words: [1, 1, 1] } })
  })

  it('reports what comes while nothing was asked', async () => {
    const heard: Uint8Array[] = []
    link.onUnasked((b) => heard.push(b))
    line.receive(framed('05 03 00 00 00 02'))
    await clock.advance(50)
    expect(heard).toEqual([framed('05 03 00 00 00 02')])
  })
})

describe('local echo', () => {
  it('is stripped before an answer, named in the tap, and remembered for writes whose answer looks the same', async () => {
    const notes: (string | undefined)[] = []
    link.onTap((f) => notes.push(f.note))
    const { outcome } = await ask()
    line.receive(readFrame)
    line.receive(goodAnswer)
    await clock.advance(0)
    expect(outcome()).toMatchObject({ ok: true, value: { words } })
    expect(notes).toContain('local echo of the request')

    const write = await ask({ kind: 'write-register', address: 1, word: 3 })
    line.receive(bytes('11 06 00 01 00 03 9A 9B'))
    await clock.advance(0)
    expect(write.outcome()).toBeUndefined()
    line.receive(bytes('11 06 00 01 00 03 9A 9B'))
    await clock.advance(0)
    expect(write.outcome()).toMatchObject({ ok: true })
  })

  it('alone is no answer', async () => {
    const { outcome } = await ask()
    line.receive(readFrame)
    await clock.advance(1_000)
    expect(outcome()).toMatchObject({ ok: false, failure: { kind: 'no-reply' } })
  })
})

describe('the line', () => {
  it('keeps 3.5 characters of silence after the last byte before the next request', async () => {
    const first = await ask()
    line.receive(goodAnswer)
    const ended = clock.now()
    await clock.advance(0)
    expect(first.outcome()).toMatchObject({ ok: true })
    let sentAt = 0
    line.whenSent(() => {
      sentAt = clock.now()
    })
    await ask()
    expect(sentAt - ended).toBeGreaterThanOrEqual((3.5 * 11 * 1000) / 19_200)
  })

  it('settles the request in flight when it is lost, and says why', async () => {
    const { outcome } = await ask()
    line.lose('adapter unplugged')
    await clock.advance(0)
    expect(outcome()).toEqual({ ok: false, failure: { kind: 'link-down', why: 'adapter unplugged' } })
    expect(link.state).toEqual({ kind: 'down', why: 'adapter unplugged' })
    await clock.advance(1_000)
    expect(link.state).toEqual({ kind: 'open' })
  })
})

it('tells the time of the unit from that of the characters on the wire', async () => {
  const { outcome } = await ask()
  await clock.advance(20)
  line.receive(goodAnswer)
  await clock.advance(0)
  // Eight characters there and eleven back, of eleven bits at 19,200 bit/s: 10.9 ms.
  const answered = outcome()
  if (!answered?.ok) throw new Error('no answer')
  expect(answered.value.tookMs - (answered.value.ownMs ?? 0)).toBeCloseTo((19 * 11_000) / 19_200, 6)
})
