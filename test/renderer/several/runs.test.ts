import { beforeEach, expect, it } from 'vitest'
import { dismissRun, endAfterThis, type Item, type Outcome, runSeveral, runs } from '../../../renderer/several/runs.ts'

beforeEach(() => runs.set([]))

/** An act that ends when it is told to. */
function act(key: string, lane: string, began: string[]) {
  const { promise, resolve } = Promise.withResolvers<Outcome>()
  const item: Item = {
    key,
    tag: key,
    lane,
    act: () => {
      began.push(key)
      return promise
    },
  }
  return { item, end: (outcome: Outcome = { state: 'done', says: 'ended' }) => resolve(outcome) }
}
const states = () => runs.get()[0]?.steps.map((s) => `${s.key} ${s.state}`)

it('lanes go side by side, those of one lane take turns, and each ends by itself', async () => {
  const began: string[] = []
  const [a1, a2, b1] = [act('a1', 'a', began), act('a2', 'a', began), act('b1', 'b', began)]
  const all = runSeveral('Read', [a1.item, a2.item, b1.item])
  expect(began).toEqual(['a1', 'b1'])
  expect(states()).toEqual(['a1 running', 'a2 queued', 'b1 running'])

  a1.end({ state: 'failed', says: 'no answer' })
  await expect.poll(() => began).toEqual(['a1', 'b1', 'a2'])
  a2.end()
  b1.end()
  await all
  expect(states()).toEqual(['a1 failed', 'a2 done', 'b1 done'])
  expect(runs.get()[0]?.ended).toBe(true)
})

it('what has not begun can be left out; what is under way goes to its end', async () => {
  const began: string[] = []
  const [a1, a2] = [act('a1', 'a', began), act('a2', 'a', began)]
  const all = runSeveral('Read', [a1.item, a2.item])
  endAfterThis(runs.get()[0]!.id)
  a1.end()
  await all
  expect(states()).toEqual(['a1 done', 'a2 left-out'])
  expect(began).toEqual(['a1'])
})

it('a result stays until it is dismissed or the next action begins; one that runs is not taken away', async () => {
  const began: string[] = []
  const [a, b, c] = [act('a', 'a', began), act('b', 'b', began), act('c', 'c', began)]
  const first = runSeveral('First', [a.item])
  const second = runSeveral('Second', [b.item])
  expect(runs.get().map((r) => r.title)).toEqual(['Second', 'First'])
  a.end()
  await first
  expect(runs.get()).toHaveLength(2)
  const third = runSeveral('Third', [c.item])
  expect(runs.get().map((r) => r.title)).toEqual(['Third', 'Second'])
  b.end()
  c.end()
  await Promise.all([second, third])
  for (const run of runs.get()) dismissRun(run.id)
  expect(runs.get()).toEqual([])
})
