import { randomUUID } from 'node:crypto'
import type { BusFailure } from '../../app/contract/bus-failure.ts'
import { type CallName, type Handlers, hostCalls } from '../../app/contract/contract.ts'
import type { Bus, Job } from '../../app/job/schema.ts'
import type { Profile, SerialFormat } from '../../app/profile/schema.ts'
import type { Result } from '../../app/result.ts'
import type { OpenBus } from '../bus/open-bus.ts'
import type { JobStore } from '../files/job-store.ts'
import { countLogged } from '../files/write-log.ts'
import { appliedLoadCalls } from './applied-load-calls.ts'
import { busCalls } from './bus-calls.ts'
import { checkCalls } from './check-calls.ts'
import { commandCalls } from './command-calls.ts'
import { descriptionCalls } from './description-calls.ts'
import { droppedFileCalls } from './dropped-file-calls.ts'
import { entrySheetCalls } from './entry-sheet-calls.ts'
import { createFileWorker } from './file-work.ts'
import { historyCalls } from './history-calls.ts'
import { importCalls } from './import-calls.ts'
import { indicatorCalls } from './indicator-calls.ts'
import { jobCalls } from './job-calls.ts'
import type { JobDoor } from './job-door.ts'
import { jobEditCalls } from './job-edit-calls.ts'
import { jobFileCalls } from './job-file-calls.ts'
import { whyNotLeave } from './leave-job.ts'
import { createListener } from './listen-calls.ts'
import { createLiveLoop } from './live-loop.ts'
import { logCalls } from './log-calls.ts'
import { meetNew } from './meet.ts'
import { portCalls } from './port-calls.ts'
import { practiceCalls } from './practice-calls.ts'
import { profileCalls } from './profile-calls.ts'
import { createRecorder } from './record-calls.ts'
import { registerCalls } from './register-calls.ts'
import { createScanner } from './scan-calls.ts'
import { addSession } from './sessions.ts'
import { createTaps } from './tap-calls.ts'
import { createTopics, type Topics } from './topics.ts'
import { versionCalls } from './version-calls.ts'
import { visitCalls } from './visit-calls.ts'
import { type BenchDoor, type HostClock, publishJob, publishSession, type World } from './world.ts'

export type HostOptions = {
  store: JobStore
  shell: 'window' | 'browser' | 'command line'
  profiles: ReadonlyMap<string, Profile>
  clock: HostClock
  bench: BenchDoor | null
  /** The way to other jobs; without it this host serves one job only. */
  door?: JobDoor
  /** Sending has been halted before this job was opened. */
  stopped?: boolean
  openBus(bus: Bus, format?: SerialFormat): Promise<Result<OpenBus, BusFailure>>
}

export type Host = {
  call: <N extends CallName>(name: N, request: Parameters<Handlers[N]>[0]) => ReturnType<Handlers[N]>
  /** A call as it comes from a renderer: decoded by its schema before a handler sees it. */
  callUntrusted(name: string, request: unknown): Promise<{ ok: true; value: unknown } | { ok: false; why: string }>
  topics: Topics
  profileOf(indicatorId: string): Profile | undefined
  /** Why the job must not be left now; null where it may. */
  whyNotLeave(): string | null
  /** Opens every bus of the job, identifies and reads what answers, and starts live reading. */
  start(): Promise<void>
  close(): Promise<void>
}

/** The host of one job: everything that touches the world, behind the contract. */
export function createHost(options: HostOptions): Host {
  const topics = createTopics(`${options.store.job.id} ${randomUUID()}`)
  let minted = 0
  const world: World = {
    store: options.store,
    topics,
    clock: options.clock,
    profiles: new Map(options.profiles),
    buses: new Map(),
    taken: new Map(),
    opening: new Map(),
    closed: false,
    history: { done: [], undone: [] },
    decidedAt: options.store.job.revision,
    door: options.door ?? null,
    sessions: new Map(),
    bench: options.bench,
    session: {
      shell: options.shell,
      stopped: options.stopped ?? false,
      by: '',
      visitId: null,
      jobPath: options.store.path,
      practice: options.bench !== null,
      savedAt: null,
      logged: countLogged(options.store.path, options.store.job),
      undo: null,
      redo: null,
      anchor: new Date(Date.parse(options.clock.stamp()) - options.clock.now()).toISOString(),
    },
    rateOn: () => undefined,
    async openBus(bus, format) {
      const opened = await options.openBus(bus, format)
      if (opened.ok) taps.follow(bus.id, opened.value)
      return opened
    },
    newId: (stem) =>
      `${stem}-${options.clock
        .stamp()
        .replace(/[^0-9]/g, '')
        .slice(0, 17)}-${++minted}`,
  }
  const taps = createTaps(world)
  for (const indicator of options.store.job.indicators) addSession(world, indicator)
  const live = createLiveLoop(world)
  world.rateOn = live.rateOn
  const recorder = createRecorder(world, live)
  const scanner = createScanner(world, (busId) => handlers['bus.open']({ busId }))
  const listener = createListener(world)
  const files = createFileWorker(topics)
  const dropped = droppedFileCalls(world, files)
  const handlers: Handlers = {
    ...jobCalls(world, live),
    ...busCalls(world, live, () => scanner.stopAll()),
    ...scanner.calls,
    ...listener.calls,
    ...taps.calls,
    ...portCalls(world),
    ...indicatorCalls(world),
    ...commandCalls(world),
    ...entrySheetCalls(world),
    ...checkCalls(world, live),
    ...practiceCalls(world),
    ...appliedLoadCalls(world),
    ...importCalls(world, live),
    ...registerCalls(world),
    ...descriptionCalls(world, live),
    ...profileCalls(world, live),
    ...recorder.calls,
    ...dropped.calls,
    ...files.calls,
    ...jobFileCalls(world, recorder.pointIds, files),
    ...historyCalls(world, live, recorder.pointIds),
    ...versionCalls(world, live, recorder.pointIds),
    ...logCalls(world),
    ...visitCalls(world),
    ...jobEditCalls(world, live, recorder.pointIds, files),
    async 'live.start'({ pointIds }) {
      live.want([...new Set([...pointIds, ...recorder.pointIds()])])
      return { ok: true, value: {} }
    },
  }
  publishJob(world)
  publishSession(world, {})
  for (const bus of options.store.job.buses) topics.set('bus', bus.id, { state: 'closed', answering: 0, silent: 0 })
  for (const point of options.store.job.points) topics.set('live', point.id, { state: 'never-read' })
  topics.set('applied', undefined, { loads: {} })

  return {
    call: (name, request) => handlers[name](request as never) as never,
    async callUntrusted(name, request) {
      if (!Object.hasOwn(hostCalls, name)) return { ok: false, why: `There is no call "${name.slice(0, 60)}".` }
      const call = name as CallName
      const decoded = hostCalls[call].request.safeParse(request)
      if (!decoded.success)
        return { ok: false, why: decoded.error.issues.map((i) => `${i.path.join('.') || call}: ${i.message}`).join('; ') }
      return { ok: true, value: await handlers[call](decoded.data as never) }
    },
    topics,
    profileOf: (indicatorId) => world.sessions.get(indicatorId)?.profile,
    whyNotLeave: () => whyNotLeave(world),
    async start() {
      const met = new Set<string>()
      const poll = (points: Job['points']) => {
        if (!world.closed) live.want(points.map((p) => p.id))
      }
      await Promise.all(
        options.store.job.buses.map(async (bus) => {
          const opened = await handlers['bus.open']({ busId: bus.id })
          const own = options.store.job.indicators.filter((i) => i.busId === bus.id)
          if (opened.ok) await meetNew(world, bus.id)
          for (const { id } of own) met.add(id)
          // No bus waits for another one: a line is listened to for seconds before the first request.
          poll(options.store.job.points.filter((p) => p.indicatorId !== undefined && met.has(p.indicatorId)))
        }),
      )
      poll(options.store.job.points)
    },
    async close() {
      world.closed = true
      dropped.close()
      for (const bus of world.buses.values()) bus.stop()
      await Promise.allSettled(world.opening.values())
      await Promise.all([scanner.close(), listener.close(), live.close(), files.close()])
      recorder.close()
      taps.close()
      await Promise.allSettled([...world.buses.values()].map((bus) => bus.close()))
      world.store.close()
      await options.bench?.close()
    },
  }
}
