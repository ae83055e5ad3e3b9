import type { HostMessage, TopicName, TopicValue } from '../../app/contract/contract.ts'
import { type CurveSample, curveSample } from '../../app/contract/sample-batch.ts'
import type { LiveSample } from '../../app/contract/views.ts'
import { CurveRing } from '../../app/live/curve-ring.ts'

export type TopicMessage = Extract<HostMessage, { kind: 'topic' }>
export type AfreshMessage = Extract<HostMessage, { kind: 'afresh' }>
/** What the host tells whoever listens: a topic that has changed, live samples as they come, or that another job is told afresh. */
export type HostEvent = AfreshMessage | TopicMessage | { kind: 'samples'; samples: readonly LiveSample[] }

/** What every renderer is told: the latest value of each topic, pushed whole when it changes. */
export type Topics = {
  /** Names this serving of a job: another one knows nothing of what was told before. */
  readonly serving: string
  set<T extends TopicName>(topic: T, key: string | undefined, value: TopicValue<T>): void
  get<T extends TopicName>(topic: T, key?: string): TopicValue<T> | undefined
  /** Forgets a topic of something that is no longer in the job; the job itself tells renderers that it is gone. */
  drop(topic: TopicName, key: string): void
  /** That all is told afresh, then every topic; a renderer that (re)connects is sent these first. */
  all(): (AfreshMessage | TopicMessage)[]
  send(event: HostEvent): void
  /** Samples of the last minutes, of each point in order of time: what a page that is loaded anew begins its curves with. */
  recall(): CurveSample[]
  subscribe(listener: (event: HostEvent) => void): () => void
}

/** Ten minutes at twenty readings a second. */
const mostRecalled = 12_000

export function createTopics(serving: string): Topics {
  const held = new Map<string, TopicMessage>()
  const listeners = new Set<(event: HostEvent) => void>()
  const recent = new Map<string, CurveRing>()
  const keep = (sample: CurveSample) => {
    const ring = recent.get(sample.pointId) ?? new CurveRing(mostRecalled)
    recent.set(sample.pointId, ring)
    ring.take(sample)
  }
  const send = (event: HostEvent) => {
    if (event.kind === 'samples') for (const sample of event.samples) keep(curveSample(sample))
    for (const listener of listeners) listener(event)
  }
  const slot = (topic: TopicName, key?: string) => (key === undefined ? topic : `${topic}/${key}`)
  return {
    serving,
    set(topic, key, value) {
      const message: TopicMessage = { kind: 'topic', topic, ...(key === undefined ? {} : { key }), value }
      held.set(slot(topic, key), message)
      send(message)
    },
    get<T extends TopicName>(topic: T, key?: string) {
      const message = held.get(slot(topic, key))
      return message?.value as TopicValue<T> | undefined
    },
    drop: (topic, key) => {
      held.delete(slot(topic, key))
    },
    all: () => [{ kind: 'afresh', serving, topics: [...held.keys()] }, ...held.values()],
    send,
    recall: () => [...recent].flatMap(([pointId, ring]) => ring.all().map((sample) => ({ pointId, unit: ring.unit, ...sample }))),
    subscribe(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  }
}

/** What is told of one bus. */
const busTopics = ['bus', 'scan', 'heard', 'tap'] as const

/** Forgets all that was told of a bus that is no longer in the job. */
export function dropBus(topics: Topics, busId: string): void {
  for (const topic of busTopics) topics.drop(topic, busId)
}
