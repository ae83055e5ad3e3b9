import { millivoltsPerVolt, type Ohms, ohms } from '../quantity/double.ts'
import { fail, ok, type Result } from '../result.ts'
import { inputLoading, resistanceInParallel, unequalParallelSignal } from './parallel.ts'

/**
 * Ohms of one lead, by where they come from. The sensor's own cable is inside its certificate: only what was cut off it (negative)
 * or joined to it counts, as `ownCableChange`. `other` are barriers, slip rings, terminals.
 */
export type Lead = { extension: Ohms; other?: Ohms; ownCableChange?: Ohms }

export type WiredSensor = {
  inputResistance: Ohms
  outputResistance: Ohms /** From junction box, or from the indicator where there is none. */
  lead: Lead
}

export type Wiring = {
  sensors: readonly WiredSensor[]
  /** From indicator to junction box, carried by all sensors together; absent without a box. */
  homeRun?: Lead
  /** Where the sense leads join the excitation; `indicator` is the connection with four wires. */
  sense: 'indicator' | 'junction-box' | 'cell'
  /** Input resistance of the indicator; absent = draws nothing. */
  indicatorInput?: Ohms
}

export type LeadLoss = {
  /** Excitation that each sensor gets, as a share of what the indicator takes it for. */
  excitation: number[]
  /** Share of the signal that the indicator's input leaves. */
  signal: number
  /** Indicated over true span, all sensors equally sensitive and equally loaded. */
  span: number
  lossPercent: number
}

export type WiringFailure = { kind: 'no-sensor' } | { kind: 'no-junction-box' } | { kind: 'one-cell-sensed-of-several' }

export function explainWiringFailure(f: WiringFailure): string {
  switch (f.kind) {
    case 'no-sensor':
      return 'No sensor is entered, so there is nothing to supply.'
    case 'no-junction-box':
      return 'The sense leads are to join in the junction box, and none is entered. Say where they join.'
    case 'one-cell-sensed-of-several':
      return 'Sense leads at one sensor say nothing of the others. Join them in the junction box.'
  }
}

const ohmsOf = (lead: Lead | undefined) => (lead?.extension ?? 0) + (lead?.other ?? 0) + (lead?.ownCableChange ?? 0)

/** Excitation at each sensor over that at the sense point, which the indicator keeps or measures against. */
function excitationShares(w: Wiring): number[] {
  if (w.sense === 'cell') return [1]
  const branches = w.sensors.map((s) => ohms(s.inputResistance + 2 * ohmsOf(s.lead)))
  const together = resistanceInParallel(branches)
  const box = w.sense === 'junction-box' ? 1 : together / (together + 2 * ohmsOf(w.homeRun))
  return w.sensors.map((s, i) => (box * s.inputResistance) / (branches[i] ?? 1))
}

/**
 * What leads take from the span, for sensors side by side, with the excitation sensed where the wiring says.
 * Limits: both leads of a pair alike; the sense leads carry no current; straight d.c. A calibration made through the same leads at the
 * same temperature takes the loss with it, not its drift.
 * Source: circuit theory; a cell's own cable inside its certificate: common practice, no source.
 */
export function leadLoss(w: Wiring): Result<LeadLoss, WiringFailure> {
  if (w.sensors.length === 0) return fail({ kind: 'no-sensor' })
  if (w.sense === 'junction-box' && !w.homeRun) return fail({ kind: 'no-junction-box' })
  if (w.sense === 'cell' && w.sensors.length > 1) return fail({ kind: 'one-cell-sensed-of-several' })
  const excitation = excitationShares(w)
  const sources = w.sensors.map((s, i) => ({
    signal: millivoltsPerVolt(excitation[i] ?? 0),
    outputResistance: ohms(s.outputResistance + 2 * ohmsOf(s.lead)),
  }))
  const source = resistanceInParallel(sources.map((s) => s.outputResistance))
  const signal = w.indicatorInput === undefined ? 1 : inputLoading(w.indicatorInput, source, ohms(ohmsOf(w.homeRun)))
  const span = unequalParallelSignal(sources) * signal
  return ok({ excitation, signal, span, lossPercent: (1 - span) * 100 })
}

/** Ohms that the excitation sees from the indicator's terminals. */
export const ohmsSeen = (w: Wiring): Ohms =>
  ohms(resistanceInParallel(w.sensors.map((s) => ohms(s.inputResistance + 2 * ohmsOf(s.lead)))) + 2 * ohmsOf(w.homeRun))
