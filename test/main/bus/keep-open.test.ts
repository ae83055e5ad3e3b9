import { expect, it } from 'vitest'
import { fail, ok, type Result } from '../../../app/result.ts'
import { type Closable, keepOpen } from '../../../main/bus/keep-open.ts'
import { handClock } from '../../builders/fake-line.ts'

type Port = Closable & { lose(why: string): void; closed: boolean }

function port(): Port {
  let tell = (_: string) => {}
  const made: Port = {
    closed: false,
    onClose(listener) {
      tell = listener
    },
    lose: (why) => tell(why),
    async close() {
      made.closed = true
    },
  }
  return made
}

it('says why where the first opening fails, and does not try again', async () => {
  const clock = handClock()
  let tries = 0
  const open = async (): Promise<Result<Port, string>> => {
    tries++
    return fail('in use')
  }
  expect(await keepOpen(open, clock, () => {})).toEqual(fail('in use'))
  await clock.advance(60_000)
  expect(tries).toBe(1)
})

it('opens again by itself after a loss, through failed openings, and gives back what is left of the old one', async () => {
  const clock = handClock()
  const first = port()
  const second = port()
  const results: Result<Port, string>[] = [ok(first), fail('no such port'), ok(second)]
  const attached: Port[] = []
  const kept = await keepOpen(
    async () => results.shift() ?? fail('no more'),
    clock,
    (p) => attached.push(p),
  )
  if (!kept.ok) throw new Error(kept.failure)
  const states: object[] = []
  kept.value.onState((s) => states.push(s))

  await clock.advance(60_000)
  first.lose('unplugged')
  expect(kept.value.state).toEqual({ kind: 'down', why: 'unplugged' })
  expect(kept.value.current).toBeUndefined()
  expect(first.closed).toBe(true)
  await clock.advance(500)
  expect(kept.value.state).toEqual({ kind: 'down', why: 'no such port' })
  await clock.advance(1000)
  expect(kept.value.state).toEqual({ kind: 'open' })
  expect(attached).toEqual([first, second])
  expect(states.at(-1)).toEqual({ kind: 'open' })
})

it('closed while it is being opened again stays closed, and closes what came too late', async () => {
  const clock = handClock()
  const first = port()
  const late = port()
  let finish = (_: Result<Port, string>) => {}
  const openings = [Promise.resolve(ok(first)), new Promise<Result<Port, string>>((resolve) => (finish = resolve))]
  const kept = await keepOpen(
    () => openings.shift() ?? Promise.resolve(fail('no more')),
    clock,
    () => {},
  )
  if (!kept.ok) throw new Error(kept.failure)
  await clock.advance(60_000)
  first.lose('unplugged')
  await clock.advance(500)
  await kept.value.close()
  finish(ok(late))
  await clock.advance(0)
  expect(kept.value.state).toEqual({ kind: 'closed' })
  expect(late.closed).toBe(true)
})
