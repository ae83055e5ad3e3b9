import type { SerialFormat } from '../app/profile/schema.ts'
import type { BenchIndicator, Fault, HeardRequest, RequestLog } from './description.ts'
import { exceptionAnswer, serve } from './modbus/serve.ts'
import { type Indicator, startIndicator } from './unit/indicator.ts'

export type WireFault = Exclude<Fault, { register: string }>

/** What a station says to one request; undefined where it says nothing. `sent` is to be told when the last byte has left. */
export type Reply = { pdu: Uint8Array; fault: WireFault | undefined; delayMs: number; sent?: () => void } | undefined

/** An indicator as it hangs on a bus: with its address, its log and the faults of its line. */
export type Station = {
  readonly key: string
  /** Its address on the bus now. */
  readonly unit: number
  /** How its port is set now, and was at the start. */
  format(): SerialFormat
  readonly formatAtStart: SerialFormat
  readonly indicator: Indicator
  /** Its own cable to the bus. */
  connected: boolean
  hear(pdu: Uint8Array, broadcast: boolean): Reply
  inject(fault: Fault): void
  clearFaults(): void
  requests(): RequestLog
}

const logLength = 10_000
const defaultAnswerDelayMs = 2
const readFunctions = [0x01, 0x02, 0x03, 0x04]
const writeFunctions = [0x05, 0x06, 0x0f, 0x10, 0x16, 0x17]

const describe = (pdu: Uint8Array, broadcast: boolean): HeardRequest => {
  const functionCode = pdu[0] ?? 0
  const kind = readFunctions.includes(functionCode) ? 'read' : writeFunctions.includes(functionCode) ? 'write' : 'other'
  const address = kind === 'other' || pdu.length < 3 ? undefined : ((pdu[1] ?? 0) << 8) | (pdu[2] ?? 0)
  return { kind, function: functionCode, address, broadcast }
}

export const startStation = (given: BenchIndicator, seed: number, clock: () => number): Station => {
  const indicator = startIndicator(given, seed, clock)
  const delayMs = given.answerDelayMs ?? defaultAnswerDelayMs
  const faults: WireFault[] = []
  const log: HeardRequest[] = []
  let count = 0
  let connected = true
  let deafUntil = Number.NEGATIVE_INFINITY
  // The time of the line, whatever clock the physics have. It needs half the pause that its profile asks a master for.
  const sent = () => {
    deafUntil = performance.now() + given.profile.requests.pauseMs / 2
  }

  const takeFault = (): WireFault | undefined => {
    const fault = faults[0]
    if (fault === undefined) return undefined
    if (fault.times > 1) faults[0] = { ...fault, times: fault.times - 1 }
    else faults.shift()
    return fault
  }

  return {
    key: given.key,
    get unit() {
      return indicator.bus().unit
    },
    format: () => indicator.bus().format,
    formatAtStart: indicator.bus().format,
    indicator,
    get connected() {
      return connected
    },
    set connected(now) {
      connected = now
    },
    hear(pdu, broadcast) {
      if (!connected || !indicator.listens() || performance.now() < deafUntil) return undefined
      count += 1
      log.push(describe(pdu, broadcast))
      if (log.length > logLength) log.shift()
      const fault = takeFault()
      if (fault?.kind === 'silent') return undefined
      if (fault?.kind === 'exception')
        return broadcast ? undefined : { pdu: exceptionAnswer(pdu[0] ?? 0, fault.code), fault: undefined, delayMs, sent }
      if (fault?.kind === 'hangs-up') return { pdu: new Uint8Array(0), fault, delayMs: 0 }
      if (broadcast && !writeFunctions.includes(pdu[0] ?? 0)) return undefined
      const answer = serve(indicator.bank, pdu)
      if (broadcast || fault?.kind === 'answer-lost') return undefined
      return { pdu: answer, fault, delayMs: delayMs + (fault?.kind === 'late' ? fault.byMs : 0), sent }
    },
    inject(fault) {
      if (!(fault.times > 0)) throw new RangeError('a fault happens at least once')
      if ('register' in fault) indicator.inject(fault)
      else faults.push(fault)
    },
    clearFaults() {
      faults.length = 0
      indicator.clearFaults()
    },
    requests: () => ({ count, log: [...log] }),
  }
}
