import type { BenchIndicator, Fault, HeardRequest, RequestLog } from './description.ts'
import { exceptionAnswer, serve } from './modbus/serve.ts'
import { type Indicator, startIndicator } from './unit/indicator.ts'

export type WireFault = Exclude<Fault, { register: string }>

/** What a station says to one request; undefined where it says nothing. */
export type Reply = { pdu: Uint8Array; fault: WireFault | undefined; delayMs: number } | undefined

/** An indicator as it hangs on a bus: with its address, its log and the faults of its line. */
export type Station = {
  readonly key: string
  readonly unit: number
  readonly indicator: Indicator
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

  const takeFault = (): WireFault | undefined => {
    const fault = faults[0]
    if (fault === undefined) return undefined
    if (fault.times > 1) faults[0] = { ...fault, times: fault.times - 1 }
    else faults.shift()
    return fault
  }

  return {
    key: given.key,
    unit: given.unit,
    indicator,
    hear(pdu, broadcast) {
      if (!indicator.listens()) return undefined
      count += 1
      log.push(describe(pdu, broadcast))
      if (log.length > logLength) log.shift()
      const fault = takeFault()
      if (fault?.kind === 'silent') return undefined
      if (fault?.kind === 'exception')
        return broadcast ? undefined : { pdu: exceptionAnswer(pdu[0] ?? 0, fault.code), fault: undefined, delayMs }
      if (broadcast && !writeFunctions.includes(pdu[0] ?? 0)) return undefined
      const answer = serve(indicator.bank, pdu)
      if (broadcast || fault?.kind === 'answer-lost') return undefined
      return { pdu: answer, fault, delayMs: delayMs + (fault?.kind === 'late' ? fault.byMs : 0) }
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
