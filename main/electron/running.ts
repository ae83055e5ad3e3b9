import type { HostEvent } from '../host/topics.ts'

type Topics = { all(): HostEvent[]; subscribe(listener: (message: HostEvent) => void): () => void }

const active = new Set(['opening', 'listening', 'open'])

/** The topic part of a bus message: whether something runs on it. Undefined for every other message. */
function busActivity(message: HostEvent): { bus: string; runs: boolean } | undefined {
  if (message.kind !== 'topic' || message.topic !== 'bus') return undefined
  const { value, key = '' } = message
  const state = typeof value === 'object' && value !== null && 'state' in value ? String(value.state) : ''
  return { bus: key, runs: active.has(state) }
}

/** Tells the listener when the first bus is opened and when the last one is closed, down or halted. */
export function watchRunning(topics: Topics, listener: (running: boolean) => void): () => void {
  const open = new Set<string>()
  const hear = (message: HostEvent) => {
    const before = open.size > 0
    if (message.kind === 'afresh') {
      open.clear()
      if (before) listener(false)
      return
    }
    const activity = busActivity(message)
    if (!activity) return
    if (activity.runs) open.add(activity.bus)
    else open.delete(activity.bus)
    if (open.size > 0 !== before) listener(open.size > 0)
  }
  for (const message of topics.all()) hear(message)
  return topics.subscribe(hear)
}
