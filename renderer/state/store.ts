import { type HostClient, type HostReach, hostTopics, type TopicName, type TopicValue } from '../../app/contract/contract.ts'
import type { CurveSample } from '../../app/contract/sample-batch.ts'
import type { LiveView } from '../../app/contract/views.ts'
import { CurveRing } from '../../app/live/curve-ring.ts'
import { firstIssue } from '../host/host-client.ts'
import { outOfReach } from './out-of-reach.ts'

/** One hour at twenty readings a second. */
const ringCapacity = 72_000
/** Values change in place at most five times a second. */
const liveEveryMs = 200

/** How often the age of what is no longer told is counted on. */
const ageEveryMs = 1_000

export type Schedule = (run: () => void, afterMs: number) => void

/** What the host has told so far, outside React: whole topics by name and key, and the samples of each point. */
export class Store {
  #topics = new Map<string, unknown>()
  #shown = new Map<string, unknown>()
  #rings = new Map<string, CurveRing>()
  #listeners = new Set<() => void>()
  #livePending = false
  #version = 0
  #schedule: Schedule
  #now: () => number
  /** When the host last told a live value, by `#now`. */
  #liveAt: number | undefined
  /** Since when nothing comes any more, by `#now`. */
  #lostAt: number | undefined
  #reach: HostReach = 'lost'
  #everConnected = false
  #unreadable: string | undefined
  #serving: string | undefined

  constructor(schedule: Schedule = (run, afterMs) => void setTimeout(run, afterMs), now = () => performance.now()) {
    this.#schedule = schedule
    this.#now = now
  }

  follow(client: HostClient): void {
    client.onReach((reach) => {
      const connected = reach === 'connected'
      this.#reach = reach
      this.#everConnected ||= connected
      if (connected) this.#lostAt = undefined
      else if (this.#everConnected) this.#lose()
      this.#tell()
    })
    client.listen((message) => {
      if (message.kind === 'samples') this.take(message.samples)
      if (message.kind === 'afresh') this.begin(message.serving, message.topics)
      if (message.kind === 'topic') this.put(message.topic, message.key, message.value)
    })
  }

  /** Everything is told afresh. The same serving goes on: what is still there stays on the screen meanwhile. Another one is another job. */
  begin(serving: string, topics: readonly string[]): void {
    const goesOn = serving === this.#serving
    this.#serving = serving
    const there = new Set(goesOn ? topics : [])
    for (const known of [this.#topics, this.#shown]) for (const at of [...known.keys()]) if (!there.has(at)) known.delete(at)
    if (!goesOn) for (const ring of this.#rings.values()) ring.clear()
    this.#tell()
  }

  put(topic: TopicName, key: string | undefined, raw: unknown): void {
    const parsed = hostTopics[topic].safeParse(raw)
    if (!parsed.success) return this.note(firstIssue(`"${topic}"`, parsed.error))
    const name = address(topic, key)
    this.#topics.set(name, parsed.data)
    if (topic !== 'live') {
      this.#shown.set(name, parsed.data)
      return this.#tell()
    }
    this.#liveAt = this.#now()
    if (this.#livePending) return
    this.#livePending = true
    this.#schedule(() => {
      this.#livePending = false
      if (this.#lostAt !== undefined) return
      for (const [at, value] of this.#topics) if (at.startsWith('live/')) this.#shown.set(at, value)
      this.#tell()
    }, liveEveryMs)
  }

  /** From now on live values only grow old, until the host tells them again. */
  #lose(): void {
    if (this.#lostAt !== undefined) return
    const lostAt = this.#liveAt ?? this.#now()
    this.#lostAt = lostAt
    const grow = () => {
      const reach = this.#reach
      if (this.#lostAt !== lostAt || reach === 'connected') return
      for (const [at, value] of this.#topics)
        if (at.startsWith('live/')) this.#shown.set(at, outOfReach(value as LiveView, this.#now() - lostAt, reach))
      this.#tell()
      this.#schedule(grow, ageEveryMs)
    }
    grow()
  }

  take(samples: readonly CurveSample[]): void {
    for (const sample of samples) this.ring(sample.pointId).take(sample)
  }

  note(unreadable: string): void {
    this.#unreadable = unreadable
    this.#tell()
  }

  topic<T extends TopicName>(topic: T, key?: string): TopicValue<T> | undefined {
    return this.#shown.get(address(topic, key)) as TopicValue<T> | undefined
  }

  ring(pointId: string): CurveRing {
    let ring = this.#rings.get(pointId)
    if (!ring) {
      ring = new CurveRing(ringCapacity)
      this.#rings.set(pointId, ring)
    }
    return ring
  }

  get connection(): 'connecting' | HostReach {
    return this.#everConnected ? this.#reach : 'connecting'
  }

  get unreadable(): string | undefined {
    return this.#unreadable
  }

  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  /** Counts up with everything that listeners are told. */
  get version(): number {
    return this.#version
  }

  #tell(): void {
    this.#version += 1
    for (const listener of this.#listeners) listener()
  }
}

const address = (topic: TopicName, key: string | undefined) => (key === undefined ? topic : `${topic}/${key}`)
