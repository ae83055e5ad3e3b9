import { type BusFailure, isFromGateway } from '../../app/contract/bus-failure.ts'
import type { SerialFormat } from '../../app/profile/schema.ts'
import type { Result } from '../../app/result.ts'
import { lineTiming, wireMs } from './line-timing.ts'
import type { OpenBus } from './open-bus.ts'

/** Units that are asked in one line format, the bus being opened, and listened to, once for all of them. */
export type ScanStage = { format: SerialFormat; units: readonly number[] }

export type ScanFound = {
  unit: number
  format: SerialFormat
  tookMs: number | null
  /** Profiles that fit what the unit says of itself; empty where nobody asked. */
  profileIds: string[]
}
/** Something answered, but not soundly: two units with one address, or a wrong format. */
export type ScanUnclear = { unit: number; format: SerialFormat; because: BusFailure }
export type ScanResult = { found: ScanFound[]; unclear: ScanUnclear[]; asked: number; endedBy: BusFailure | null }

export type ScanOptions = {
  open(format: SerialFormat): Promise<Result<OpenBus, BusFailure>>
  /** How long a unit may take to begin its answer, in ms. */
  answerMs: number
  /** How long `open` has the line listened to first. */
  listenMs: number
  signal: AbortSignal
  /** Which profiles fit a unit that was found. It may read only. */
  identify?(bus: OpenBus, unit: number): Promise<string[]>
  /** `of` shrinks when other formats are left out. `leftMs` is the longest that the rest takes on a quiet line. */
  onAsk(asked: number, of: number, unit: number, format: SerialFormat, leftMs: number): void
  onFound(found: ScanFound): void
}

/** Any register will do: a refusal is an answer, too. */
const probe = { kind: 'read-registers', table: 'holding', address: 0, count: 1 } as const
/** Scheduler's tries of one read that gets no answer. */
const tries = 2
const requestBytes = 8
const answerBytes = 7

const same = (a: SerialFormat, b: SerialFormat) => a.baud === b.baud && a.parity === b.parity && a.stopBits === b.stopBits

/** What is most likely first: the default of the profile, then address 1 in every format, then everything else. */
export function planScan(options: {
  formats: readonly SerialFormat[]
  units: readonly number[]
  first?: { format: SerialFormat; unit: number }
}): ScanStage[] {
  const { first, units } = options
  const formats = first ? [first.format, ...options.formats.filter((f) => !same(f, first.format))] : options.formats
  const isFirst = (format: SerialFormat, unit: number) => first !== undefined && unit === first.unit && same(format, first.format)
  const stage = (format: SerialFormat, wanted: readonly number[]): ScanStage => ({
    format,
    units: wanted.filter((unit) => !isFirst(format, unit)),
  })
  const ones = units.filter((unit) => unit === 1)
  const rest = units.filter((unit) => unit !== 1)
  return [
    ...(first ? [{ format: first.format, units: [first.unit] }] : []),
    ...formats.map((format) => stage(format, ones)),
    ...formats.map((format) => stage(format, rest)),
  ].filter((s) => s.units.length > 0)
}

/**
 * The longest that a scan takes on a line without noise, in ms, when nothing answers: listening before each stage, and for each
 * unit two tries with their time on the wire, the answer time, the quarantine after it and the silence between frames.
 */
export function longestScanMs(stages: readonly ScanStage[], timing: { listenMs: number; answerMs: number }): number {
  return stages.reduce((sum, { format, units }) => {
    const line = lineTiming(format)
    const oneTry = wireMs(line, requestBytes + answerBytes) + 2 * timing.answerMs + line.silenceMs
    return sum + timing.listenMs + units.length * tries * oneTry
  }, 0)
}

/**
 * Asks unit after unit, with reads only. Once a unit was found, other formats are left out: all units of a line share one.
 * Ends early when the signal says so, the link is lost or another master is heard; what was found until then is given.
 */
export async function scan(stages: readonly ScanStage[], options: ScanOptions): Promise<ScanResult> {
  const result: ScanResult = { found: [], unclear: [], asked: 0, endedBy: null }
  const isLeftOut = ({ format }: ScanStage) => result.found[0] !== undefined && !same(result.found[0].format, format)
  for (const [index, stage] of stages.entries()) {
    const { format, units } = stage
    if (isLeftOut(stage)) continue
    if (options.signal.aborted) return { ...result, endedBy: { kind: 'stopped' } }
    const opened = await options.open(format)
    if (!opened.ok) return { ...result, endedBy: opened.failure }
    try {
      for (const [nth, unit] of units.entries()) {
        const later = stages.slice(index + 1).filter((s) => !isLeftOut(s))
        const here = { format, units: units.slice(nth) }
        const of = result.asked + [here, ...later].reduce((sum, s) => sum + s.units.length, 0)
        const leftMs = longestScanMs([here, ...later], options) - options.listenMs
        options.onAsk(result.asked + 1, of, unit, format, leftMs)
        const endedBy = await ask(opened.value, unit, format, options, result)
        if (endedBy) return { ...result, endedBy }
        result.asked++
      }
    } finally {
      await opened.value.close()
    }
  }
  return result
}

async function ask(
  bus: OpenBus,
  unit: number,
  format: SerialFormat,
  { answerMs, signal, onFound, identify }: ScanOptions,
  result: ScanResult,
): Promise<BusFailure | null> {
  const outcome = await bus.request(unit, probe, { priority: 'user', answerMs, signal })
  const isThere = async (tookMs: number | null) => {
    const found = { unit, format, tookMs, profileIds: (await identify?.(bus, unit)) ?? [] }
    result.found.push(found)
    onFound(found)
    return null
  }
  if (outcome.ok) return isThere(outcome.value.tookMs)
  const { failure } = outcome
  switch (failure.kind) {
    case 'refused':
      return isFromGateway(failure) ? null : isThere(null)
    case 'garbled':
    case 'foreign':
      result.unclear.push({ unit, format, because: failure })
      return null
    case 'no-reply':
    case 'set-aside':
      return null
    case 'link-down':
    case 'stopped':
    case 'other-master':
      return failure
  }
}
