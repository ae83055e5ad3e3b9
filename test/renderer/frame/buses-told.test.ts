import { describe, expect, it } from 'vitest'
import type { BusView } from '../../../app/contract/views.ts'
import { busesTold } from '../../../renderer/frame/buses-told.ts'
import { isOffered } from '../../../renderer/frame/first-steps.tsx'

const bus = (name: string, change: Partial<BusView> = {}) => ({
  id: name.toLowerCase(),
  name,
  view: { state: 'open', answering: 2, silent: 0, ...change } as BusView,
})
const silent = { answering: 0, silent: 1 }

describe('the buses in one line', () => {
  it('tells two right ones singly', () => {
    expect(busesTold([bus('A'), bus('B')], false)).toEqual({ wrong: null, right: ['a', 'b'] })
  })

  it('tells one that is not right by name, and more than two right ones together', () => {
    const told = busesTold([bus('A'), bus('B'), bus('C', silent)], false)

    expect(told.wrong).toMatchObject({ tone: 'lost', name: 'C', says: '1 of 1 silent' })
    expect(told.right).toEqual({ count: 3, answering: 4 })
  })

  it('tells several that are not right as a number, the rest at the pointer', () => {
    const told = busesTold([bus('A'), bus('B', { state: 'down', why: 'no port' }), bus('C', silent)], false)

    expect(told.wrong).toMatchObject({ tone: 'lost', name: '2 buses', says: 'not right', whole: 'B: down; C: 1 of 1 silent' })
  })

  it('tells a stop once', () => {
    const halted = { state: 'halted', answering: 0 } as const
    const told = busesTold([bus('A', halted), bus('B', halted), bus('C', halted)], true)

    expect(told.wrong).toMatchObject({ tone: 'attention', name: '3 buses', says: 'stopped' })
    expect(told.right).toEqual([])
  })

  it('tells how many answer where all buses have silent units', () => {
    const partly = { answering: 2, silent: 1 }

    expect(busesTold([bus('A', partly), bus('B', partly), bus('C', partly)], false).right).toEqual({ count: 3, answering: 6 })
  })
})

it('offers first steps on the table while it sends, and nowhere else', () => {
  expect([isOffered(null, false), isOffered('p1', false), isOffered(null, true)]).toEqual([true, false, false])
})
