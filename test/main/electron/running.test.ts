import { expect, it } from 'vitest'
import { watchRunning } from '../../../main/electron/running.ts'
import type { HostEvent, TopicMessage } from '../../../main/host/topics.ts'

const bus = (key: string, state: string): TopicMessage => ({ kind: 'topic', topic: 'bus', key, value: { state, answering: 0, silent: 0 } })

function watch(before: TopicMessage[]) {
  const told: boolean[] = []
  const listeners: ((message: HostEvent) => void)[] = []
  const subscribe = (listener: (message: HostEvent) => void) => {
    listeners.push(listener)
    return () => {}
  }
  watchRunning({ all: () => before, subscribe }, (running) => told.push(running))
  return { told, hear: (message: HostEvent) => listeners[0]?.(message) }
}

it('begins with the first bus that opens and ends with the last that closes', () => {
  const { told, hear } = watch([bus('a', 'closed'), bus('b', 'closed')])
  for (const message of [bus('a', 'opening'), bus('a', 'open'), bus('b', 'open'), bus('a', 'closed'), bus('b', 'down')]) hear(message)
  expect(told).toEqual([true, false])
})

it('knows of buses that were open before', () => {
  const { told } = watch([bus('a', 'open')])
  expect(told).toEqual([true])
})

it('ends when sending is halted, and takes no notice of other messages', () => {
  const { told, hear } = watch([bus('a', 'open')])
  hear({ kind: 'samples', samples: [] })
  hear({ kind: 'topic', topic: 'live', key: 'a', value: { state: 'never-read' } })
  hear(bus('a', 'halted'))
  expect(told).toEqual([true, false])
})

it('ends when another job is told afresh, whose buses begin closed', () => {
  const { told, hear } = watch([bus('a', 'open')])
  hear({ kind: 'afresh', serving: 'next', topics: [] })
  hear(bus('b', 'open'))
  expect(told).toEqual([true, false, true])
})
