import type { Profile, SerialFormat } from '../app/profile/schema.ts'

/** A load cell or pressure transducer of the bench. Its truth is its own: the tool never sees it. */
export type BenchSensor = {
  /** In the unit of the bench point. */
  capacity: number
  ratedOutputMvPerV: number
  zeroMvPerV: number
}

/** The resistor that an indicator puts across one arm on command, and the arms of each sensor's bridge. */
export type BenchShunt = { ohms: number; bridgeOhms: number }

export type BenchPoint = {
  channel: number
  unit: string
  /** Wired in parallel; the load is shared equally. */
  sensors: readonly BenchSensor[]
  /** Structure on the sensors, in `unit`. */
  deadLoad: number
  /** Standard deviation of one converter sample, microvolt at the input. */
  noiseMicrovolt: number
  /** Where the indicator has no setting for it; 5 V unless given. */
  excitationVolt?: number
  /** Without it the commands shunt-on and shunt-off are refused. */
  shunt?: BenchShunt
}

export type BenchIndicator = {
  key: string
  unit: number
  profile: Profile
  /**
   * Settings found in the unit's saved memory at power-up, by register key, as raw words. An entry of the front panel takes two,
   * high word first: a whole number with the entry's decimals, or the place of an option in its list, from 0.
   */
  words: Readonly<Record<string, readonly number[]>>
  points: readonly BenchPoint[]
  /** What reading an unused address gives: 0 in gaps no longer than the profile's readOver (default), or exception 02. */
  gaps?: 'zero' | 'refuse'
  /** Between the end of a request and the start of its answer; 2 ms unless given. */
  answerDelayMs?: number
  /** How its port is set where the profile has no register for it; the profile's own format unless given. */
  format?: SerialFormat
}

/** Port 0 means any free port of 127.0.0.1. A serial path is an existing port, one end of a pair of pseudo-terminals for instance. */
export type BenchLink =
  /** With `adapter` its path stays the same while the adapter is pulled out and put back. */
  | { kind: 'pty'; baud: number; bitsPerCharacter: 10 | 11; adapter?: boolean }
  | { kind: 'serial-path'; path: string; baud: number; bitsPerCharacter: 10 | 11 }
  | { kind: 'rtu-over-tcp'; port: number }
  /** As small gateways do, it closes connections beyond `sockets` at once, and one that was idle for `idleMs`. */
  | { kind: 'modbus-tcp'; port: number; sockets?: number; idleMs?: number }

/** Somebody else who polls a unit; where the bench has no such unit, one is imagined that answers. It does not listen before it speaks. */
export type OtherMaster = { unit: number; everyMs: number }

/** What is odd about a line that carries RTU frames. */
export type LineConditions = {
  /** What the master sends comes back to it, as from an adapter that hears itself. */
  echo?: boolean
  /** Stray bytes so long after every answer. */
  noise?: { bytes: readonly number[]; afterMs: number }
  /** A request that comes while the other one's exchange is on the line collides and is heard by nobody. */
  otherMaster?: OtherMaster
  /**
   * How the master has set its port; an indicator set otherwise hears garbage and does not answer, and what others say is
   * garbage to the master. Unless given, the format that each indicator had at the start.
   */
  masterFormat?: SerialFormat
}

export type BenchBus = {
  key: string
  link: BenchLink
  line?: LineConditions
  indicators: readonly BenchIndicator[]
}

/** Faults, each given to one indicator, counted down as requests arrive. */
export type Fault =
  /** Nothing heard, nothing done, no answer. */
  | { kind: 'silent'; times: number }
  /** Heard and done, but the answer is lost on its way. */
  | { kind: 'answer-lost'; times: number }
  | { kind: 'late'; byMs: number; times: number }
  /** On modbus-tcp, which has no CRC, the answer carries a wrong transaction number. */
  | { kind: 'wrong-crc'; times: number }
  | { kind: 'truncated'; times: number }
  | { kind: 'twice'; times: number }
  | { kind: 'foreign-unit'; times: number }
  /** The request comes back before the answer, as from an adapter that hears itself. */
  | { kind: 'echo'; times: number }
  /** Stray bytes directly before the answer. */
  | { kind: 'noise'; bytes: readonly number[]; times: number }
  /** Heard, but not done: the connection is closed instead. For links over sockets. */
  | { kind: 'hangs-up'; times: number }
  /** Any request is answered with this exception and not done. */
  | { kind: 'exception'; code: number; times: number }
  /** Writes that touch the register (reads, where it can only be read) get this exception. */
  | { kind: 'refuse'; register: string; code: number; times: number }
  /** Accepts the write with a normal reply and keeps the old value. */
  | { kind: 'ignore'; register: string; times: number }

export type BenchAddress = { path: string } | { host: '127.0.0.1'; port: number }

/** One request as an indicator heard it. `address` is the first one the request names, where it names one. */
export type HeardRequest = { kind: 'read' | 'write' | 'other'; function: number; address: number | undefined; broadcast: boolean }

export type RequestLog = { count: number; log: readonly HeardRequest[] }

/** What a person sees on the indicator: dashes (undefined) while it is off, out of range or not scaled. */
export type BenchDisplay = {
  reading: number | undefined /** The reading with the display's decimals. */
  text: string | undefined
  unit: string | undefined
}

export type BenchBusPlace = { key: string; framing: 'rtu' | 'modbus-tcp'; at: string | null }
export type BenchUnit = { key: string; bus: string; unit: number }

export type BenchLoad = { indicator: string; channel: number; load: number; unit: string }

/** A running bench. Keys that do not exist are programming mistakes and throw. */
export type Bench = {
  addressOf(busKey: string): BenchAddress
  /** Every bus: what it carries and where it is, null while its adapter is pulled. */
  buses(): readonly BenchBusPlace[]
  /** Every indicator with its address on its bus now. */
  units(): readonly BenchUnit[]
  /** How many masters are connected now; 1 for a line. */
  connections(busKey: string): number
  /** Applies a load, in the unit of the bench point; it acts at once. */
  setLoad(indicatorKey: string, channel: number, load: number): void
  loads(): readonly BenchLoad[]
  display(indicatorKey: string, channel: number): BenchDisplay
  /** Words of every setting, those of the front panel among them, as the indicator works with them now. */
  settings(indicatorKey: string): Record<string, number[]>
  /** Words of every setting as they would come back after a power cycle. */
  saved(indicatorKey: string): Record<string, number[]>
  powerCycle(indicatorKey: string): void
  power(indicatorKey: string, on: boolean): void
  inject(indicatorKey: string, fault: Fault): void
  /** Takes back every fault, of the line or of a register, that has not happened yet. */
  clearFaults(indicatorKey: string): void
  /** Bytes on the bus that come from nobody we know: another master's request, or noise. */
  disturb(busKey: string, bytes: readonly number[]): void
  /** Other conditions of the line from now on; what is not given is ordinary. Not for Modbus TCP. */
  setLine(busKey: string, conditions: LineConditions): void
  line(busKey: string): LineConditions
  /** Whether its adapter is in the computer; null where the link has none. */
  adapter(busKey: string): boolean | null
  /** Takes the adapter out of the computer, where the link has one: its path is gone until `plugAdapter`. */
  pullAdapter(busKey: string): Promise<void>
  plugAdapter(busKey: string): void
  /** Takes the cable off: bytes are lost in both directions until `plug`. */
  pull(busKey: string): void
  plug(busKey: string): void
  /** The same for the cable of one unit: it goes on by itself and hears nothing. */
  pullUnit(indicatorKey: string): void
  plugUnit(indicatorKey: string): void
  /** The cable of a channel's sensors: the input is left open until it is put back. */
  pullSensors(indicatorKey: string, channel: number): void
  plugSensors(indicatorKey: string, channel: number): void
  /** Somebody changes a setting at the front panel: in force and saved at once, whatever the lock. */
  panel(indicatorKey: string, registerKey: string, words: readonly number[]): void
  /** All requests that the indicator heard addressed to it since the start, another master's too; `log` keeps the last 10 000. */
  requests(indicatorKey: string): RequestLog
  close(): Promise<void>
}

export type BenchOptions = {
  buses: readonly BenchBus[]
  /** Same seed, same clock, same requests: same noise. */
  seed: number
  /** Monotonic milliseconds for the physics; the computer's own clock unless given. */
  clock?: () => number
}
