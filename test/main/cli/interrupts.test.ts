import { afterEach, beforeEach, expect, it } from 'vitest'
import { type Interrupts, watchInterrupts } from '../../../main/cli/interrupts.ts'

let at: number
let interrupts: Interrupts
const pressAt = (ms: number) => {
  at = ms
  process.emit('SIGHUP')
}

beforeEach(() => {
  at = 0
  interrupts = watchInterrupts(() => at)
})
afterEach(() => interrupts.close())

it('lets guarded work reach its end: told the first press and the second, one press that arrives twice counted once', async () => {
  const told: string[] = []
  let end = () => {}
  const work = new Promise<void>((done) => {
    end = done
  })
  const guarded = interrupts.guarded(work, { first: () => told.push('first'), again: () => told.push('again') })
  pressAt(1_000)
  pressAt(1_100)
  expect(told).toEqual(['first'])
  pressAt(2_000)
  expect(told).toEqual(['first', 'again'])
  expect(interrupts.signal.aborted).toBe(false)
  end()
  await guarded
  expect([interrupts.signal.aborted, interrupts.pressed()]).toEqual([true, true])
})

it('aborts what is not guarded at the first press', () => {
  expect(interrupts.pressed()).toBe(false)
  pressAt(1_000)
  expect([interrupts.signal.aborted, interrupts.pressed()]).toEqual([true, true])
})
