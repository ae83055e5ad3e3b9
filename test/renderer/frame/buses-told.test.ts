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
    expect(busesTold([bus('A'), bus('B')], false)).toEqual([
      { kind: 'right', id: 'a' },
      { kind: 'right', id: 'b' },
    ])
  })

  it('leaves each of two in its place when it goes wrong', () => {
    expect(busesTold([bus('A'), bus('B', silent)], false)).toMatchObject([{ id: 'a' }, { kind: 'wrong', name: 'B' }])
    expect(busesTold([bus('A', silent), bus('B')], false)).toMatchObject([{ kind: 'wrong', name: 'A' }, { id: 'b' }])
  })

  it('tells one of many that is not right by name, before their number', () => {
    const told = busesTold([bus('A'), bus('B'), bus('C', silent)], false)

    expect(told).toMatchObject([
      { kind: 'wrong', tone: 'lost', name: 'C', says: '1 of 1 silent' },
      { kind: 'many', count: 3, answering: 4 },
    ])
  })

  it('tells several that are not right as a number, the rest at the pointer', () => {
    const [wrong] = busesTold([bus('A'), bus('B', { state: 'down', why: 'no port' }), bus('C', silent)], false)

    expect(wrong).toMatchObject({ tone: 'lost', name: '2 buses', says: 'not right', whole: 'B: down; C: 1 of 1 silent' })
  })

  it('tells a stop once', () => {
    const halted = { state: 'halted', answering: 0 } as const
    const told = busesTold([bus('A', halted), bus('B', halted), bus('C', halted)], true)

    expect(told).toMatchObject([{ kind: 'wrong', tone: 'attention', name: '3 buses', says: 'stopped' }])
  })

  it('tells how many answer where all buses have silent units', () => {
    const partly = { answering: 2, silent: 1 }
    const told = busesTold([bus('A', partly), bus('B', partly), bus('C', partly)], false)

    expect(told).toMatchObject([{ kind: 'wrong' }, { kind: 'many', count: 3, answering: 6 }])
  })
})

it('offers first steps on the table while it sends, and nowhere else', () => {
  expect([isOffered(null, false), isOffered('p1', false), isOffered(null, true)]).toEqual([true, false, false])
})
