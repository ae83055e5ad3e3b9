import { describe, expect, it } from 'vitest'
import { type LinkEvent, type LinkLife, newLink, nextLife, retryAfterMs } from '../../../main/bus/link-life.ts'

const lives = (events: LinkEvent[]): LinkLife[] => {
  let life = newLink
  return events.map((event) => {
    life = nextLife(life, event)
    return life
  })
}

describe('the life of a link', () => {
  it('an adapter is unplugged, does not open while it is away, and is plugged in again', () => {
    expect(
      lives([
        { kind: 'opened' },
        { kind: 'lost', why: 'unplugged', heldMs: 60_000 },
        { kind: 'retry-due' },
        { kind: 'open-failed', why: 'no such port' },
        { kind: 'retry-due' },
        { kind: 'open-failed', why: 'no such port' },
        { kind: 'retry-due' },
        { kind: 'opened' },
      ]),
    ).toEqual([
      { kind: 'open', tries: 0 },
      { kind: 'down', why: 'unplugged', tries: 0 },
      { kind: 'opening', tries: 0 },
      { kind: 'down', why: 'no such port', tries: 1 },
      { kind: 'opening', tries: 1 },
      { kind: 'down', why: 'no such port', tries: 2 },
      { kind: 'opening', tries: 2 },
      { kind: 'open', tries: 2 },
    ])
  })

  it.each<LinkEvent>([
    { kind: 'opened' },
    { kind: 'lost', why: 'x', heldMs: 0 },
    { kind: 'retry-due' },
    { kind: 'open-failed', why: 'x' },
    { kind: 'close' },
  ])('a closed link stays closed after $kind', (event) => {
    const closed: LinkLife = { kind: 'closed' }
    // The very same state: nobody is told a second time.
    expect(nextLife(closed, event)).toBe(closed)
  })

  it.each<[LinkLife, LinkEvent]>([
    [
      { kind: 'down', why: 'first', tries: 1 },
      { kind: 'lost', why: 'second', heldMs: 0 },
    ],
    [{ kind: 'down', why: 'first', tries: 1 }, { kind: 'opened' }],
    [{ kind: 'open', tries: 0 }, { kind: 'retry-due' }],
    [
      { kind: 'open', tries: 0 },
      { kind: 'open-failed', why: 'x' },
    ],
  ])('%o is not changed by %o', (life, event) => {
    expect(nextLife(life, event)).toEqual(life)
  })

  it('a gateway whose sockets are taken accepts and hangs up at once: it is tried less and less often, until it holds', () => {
    const flap: LinkEvent[] = [{ kind: 'opened' }, { kind: 'lost', why: 'hung up', heldMs: 3 }, { kind: 'retry-due' }]
    const down = lives([...flap, ...flap, ...flap]).filter((l) => l.kind === 'down')
    expect(down.map((l) => retryAfterMs(l.tries))).toEqual([1000, 2000, 4000])
    const held: LinkEvent[] = [{ kind: 'opened' }, { kind: 'lost', why: 'unplugged', heldMs: 2_000 }]
    expect(lives([...flap, ...flap, ...held]).at(-1)).toEqual({ kind: 'down', why: 'unplugged', tries: 0 })
  })

  it('opens again soon at first and every 5 s later on', () => {
    expect([0, 1, 2, 3, 4, 50].map(retryAfterMs)).toEqual([500, 1000, 2000, 4000, 5000, 5000])
  })
})
