import type { Bench, BenchAddress, BenchBus, BenchOptions, LineConditions } from './description.ts'
import { type LineTiming, type RtuLine, serveMbap, serveRtu } from './line.ts'
import { startOtherMaster } from './other-master.ts'
import { type Station, startStation } from './station.ts'
import { openAdapter } from './wire/adapter.ts'
import { listenTcp } from './wire/listen-tcp.ts'
import { openPty } from './wire/open-pty.ts'
import { openSerial } from './wire/open-serial.ts'
import type { Wire } from './wire/wire.ts'

type RunningBus = {
  address: BenchAddress
  framing: 'rtu' | 'modbus-tcp'
  connected: boolean
  disturb(bytes: Uint8Array): void
  setLine(conditions: LineConditions): void
  line(): LineConditions
  connections(): number
  adapter?: { isIn(): boolean; pull(): Promise<void>; plug(): void }
  close(): Promise<void>
}

/** No timer of a busy process keeps a shorter silence. */
const leastSilenceMs = 5
const socketTiming: LineTiming = { characterMs: 0, silenceMs: 20 }
const ownClock = () => performance.now()

/** Starts virtual indicators on their buses. Loads, faults and front panels are worked from outside. */
export async function startBench({ buses, seed, clock = ownClock }: BenchOptions): Promise<Bench> {
  const stations = new Map<string, Station>()
  const busOf = new Map<string, string>()
  const running = new Map<string, RunningBus>()
  const close = async () => {
    await Promise.all([...running.values()].map((bus) => bus.close()))
  }
  try {
    for (const bus of buses) {
      const own = bus.indicators.map((given) => startStation(given, seed, clock))
      for (const station of own) {
        if (stations.has(station.key)) throw new RangeError(`two indicators are called ${station.key}`)
        stations.set(station.key, station)
        busOf.set(station.key, bus.key)
      }
      const started = await startBus(bus, own)
      running.set(bus.key, started)
      started.setLine(bus.line ?? {})
    }
  } catch (cause) {
    await close()
    throw cause
  }

  const station = (key: string): Station => stations.get(key) ?? missing('indicator', key)
  const bus = (key: string): RunningBus => running.get(key) ?? missing('bus', key)
  const channel = (key: string, number: number) =>
    station(key).indicator.channels.find((c) => c.number === number) ?? missing('channel', `${key}@${number}`)

  return {
    addressOf: (key) => bus(key).address,
    buses: () =>
      [...running].map(([key, { address, adapter, framing }]) => ({
        key,
        framing,
        at: adapter?.isIn() === false ? null : 'path' in address ? address.path : `${address.host}:${address.port}`,
      })),
    units: () => [...stations.values()].map(({ key, unit }) => ({ key, unit, bus: busOf.get(key) ?? '' })),
    connections: (key) => bus(key).connections(),
    setLoad: (key, number, load) => channel(key, number).setLoad(load, clock()),
    loads: () =>
      [...stations].flatMap(([key, s]) =>
        s.indicator.channels.map((c) => ({ indicator: key, channel: c.number, load: c.load(), unit: c.point.unit })),
      ),
    display(key, number) {
      const shown = channel(key, number)
      const { indicator } = station(key)
      const reading = indicator.shown(shown)
      return { reading, text: reading?.toFixed(shown.decimalsShown()), unit: shown.unitShown() }
    },
    settings: (key) => station(key).indicator.settings(),
    saved: (key) => station(key).indicator.saved(),
    powerCycle(key) {
      station(key).indicator.power(false)
      station(key).indicator.power(true)
    },
    power: (key, on) => station(key).indicator.power(on),
    inject: (key, fault) => station(key).inject(fault),
    clearFaults: (key) => station(key).clearFaults(),
    pull(key) {
      bus(key).connected = false
    },
    plug(key) {
      bus(key).connected = true
    },
    pullUnit(key) {
      station(key).connected = false
    },
    plugUnit(key) {
      station(key).connected = true
    },
    pullSensors: (key, number) => channel(key, number).connect(false, clock()),
    plugSensors: (key, number) => channel(key, number).connect(true, clock()),
    setLine: (key, conditions) => bus(key).setLine(conditions),
    line: (key) => bus(key).line(),
    adapter: (key) => bus(key).adapter?.isIn() ?? null,
    pullAdapter: (key) => (bus(key).adapter ?? missing('adapter on bus', key)).pull(),
    plugAdapter: (key) => (bus(key).adapter ?? missing('adapter on bus', key)).plug(),
    disturb: (key, bytes) => bus(key).disturb(Uint8Array.from(bytes)),
    panel: (key, register, words) => station(key).indicator.panel(register, words),
    requests: (key) => station(key).requests(),
    close,
  }
}

async function startBus(bus: BenchBus, stations: readonly Station[]): Promise<RunningBus> {
  const lines = new Set<RtuLine>()
  let conditions: LineConditions = {}
  let otherMaster: { close(): void } | undefined
  const state = {
    framing: bus.link.kind === 'modbus-tcp' ? ('modbus-tcp' as const) : ('rtu' as const),
    connected: true,
    disturb(bytes: Uint8Array) {
      for (const line of lines) line.disturb(bytes)
    },
    setLine(given: LineConditions) {
      if (bus.link.kind === 'modbus-tcp' && Object.keys(given).length > 0) throw new RangeError('Modbus TCP has no such line')
      const before = conditions.otherMaster
      conditions = given
      // One that polls seldom would never speak if every other change of the line began its wait anew.
      if (before?.unit === given.otherMaster?.unit && before?.everyMs === given.otherMaster?.everyMs) return
      otherMaster?.close()
      otherMaster =
        given.otherMaster &&
        startOtherMaster(given.otherMaster, stations, stations[0]?.format(), (exchange) =>
          Math.max(0, ...[...lines].map((line) => line.overhear(exchange))),
        )
    },
    line: () => conditions,
    connections: () => 1,
  }
  const connected = () => state.connected
  const ended = (close: () => Promise<void>): Promise<void> => {
    otherMaster?.close()
    return close()
  }
  const attach = (wire: Wire, timing: LineTiming) => {
    const line = serveRtu(wire, stations, connected, timing, () => conditions)
    lines.add(line)
    wire.onClose(() => {
      lines.delete(line)
      line.close()
    })
    return line
  }
  const { link } = bus
  switch (link.kind) {
    case 'pty':
    case 'serial-path': {
      const characterMs = (link.bitsPerCharacter * 1000) / link.baud
      const timing = { characterMs, silenceMs: Math.max(leastSilenceMs, 3.5 * characterMs) }
      if (link.kind === 'pty' && link.adapter) {
        const adapter = openAdapter((wire) => void attach(wire, timing))
        return Object.assign(state, { address: { path: adapter.path }, adapter, close: () => ended(adapter.close) })
      }
      const { wire, path } = link.kind === 'pty' ? openPty() : { wire: await openSerial(link.path, link.baud), path: link.path }
      const line = attach(wire, timing)
      return Object.assign(state, {
        address: { path },
        close: () =>
          ended(() => {
            line.close()
            return wire.close()
          }),
      })
    }
    case 'rtu-over-tcp': {
      const server = await listenTcp(link.port, (wire) => attach(wire, socketTiming))
      return Object.assign(state, {
        address: { host: '127.0.0.1', port: server.port } as const,
        connections: server.connections,
        close: () => ended(server.close),
      })
    }
    case 'modbus-tcp': {
      const toUnits = (wire: Wire) => {
        const line = serveMbap(wire, stations, connected)
        wire.onClose(() => line.close())
      }
      const server = await listenTcp(link.port, toUnits, link)
      return Object.assign(state, {
        address: { host: '127.0.0.1', port: server.port } as const,
        connections: server.connections,
        close: server.close,
      })
    }
  }
}

function missing(what: string, key: string): never {
  throw new RangeError(`the bench has no ${what} ${key}`)
}
