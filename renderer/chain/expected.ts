import { leadsLeave } from '../../app/bridge/point-wiring.ts'
import type { Point, SettingsImage } from '../../app/job/schema.ts'
import { exact } from '../../app/quantity/exact.ts'
import type { Result } from '../../app/result.ts'
import { type ExpectedChain, expectedChain } from '../../app/scaling/expected-chain.ts'
import { readingByHeld } from '../../app/scaling/held-reading.ts'
import type { ScalingFailure } from '../../app/scaling/scaling-failure.ts'
import { decimalsOf, fixedText, signedFixedText } from '../figures/number-text.ts'
import type { PlaceId } from '../places/place-ids.ts'
import type { PointView } from '../state/point-view.ts'
import { grossNow } from './gross-now.ts'
import { inputClipped } from './input-room.ts'
import { readingState, signalState } from './reading-text.ts'
import { unstatedLeads } from './unstated-leads.ts'

type Computed = { held: SettingsImage | null; load: string; chain: Result<ExpectedChain, ScalingFailure> }
const computed = new WeakMap<Point, Computed>()

/** Expected values under the load that is known to be on; undefined while it is unknown. Computed once for each state of point and settings. */
export function expectedNow(view: PointView): Result<ExpectedChain, ScalingFailure> | undefined {
  const { point, profile, applied, state } = view
  if (!applied) return undefined
  const held = state?.held ?? null
  const before = computed.get(point)
  if (before && before.held === held && before.load === applied.load) return before.chain
  const chain = expectedChain(point, profile, held, exact(applied.load))
  computed.set(point, { held, load: applied.load, chain })
  return chain
}

/** Signal measured now, in mV/V and as it came; undefined where it is stale, derived, none or held back by the input. */
export function signalNow(view: PointView, chain: ExpectedChain): { value: number; expected: number; unit: 'mV/V' | 'mV' } | undefined {
  const signal = view.live?.state === 'fresh' && !inputClipped(view) ? signalState(view) : null
  if (signal?.origin !== 'measured') return undefined
  const expected = signal.unit === 'mV/V' ? chain.inputSignal : chain.millivolts
  return expected && { value: signal.value, expected: expected.valueOf(), unit: signal.unit }
}

/**
 * What the held scaling values make of the signal measured now, in the point's unit; undefined where none is measured now or it cannot be
 * computed. A zero that was set by a command on the indicator is not in it.
 */
export function heldMakesNow(view: PointView, chain: ExpectedChain): number | undefined {
  const { point, profile, state, live } = view
  const volts = chain.excitation?.volts
  const sample = live?.state === 'fresh' && live.sample.signalOrigin === 'measured' && !inputClipped(view) ? live.sample : null
  if (!sample || sample.signal === null || !profile || !state?.held) return undefined
  const signal = exact(sample.signal)
  const ratio = sample.signalUnit === 'mV' ? volts && signal.div(volts) : signal
  const made = ratio && readingByHeld(point, profile, state.held, ratio, volts)
  return made?.ok ? made.value.valueOf() : undefined
}

export const signalDecimals = (unit: 'mV/V' | 'mV') => (unit === 'mV/V' ? 5 : 4)

/** One line a place, shown in the chain while the load is known: what is expected there, and by how much the measured value differs. */
export function expectedLines(view: PointView): Partial<Record<PlaceId, string>> {
  const found = expectedNow(view)
  if (!found?.ok || !view.applied) return {}
  const { point, job } = view
  const sign = job.decimalSign
  const chain = found.value
  const decimals = decimalsOf(point.scaleInterval)
  const signal = (value: number) => fixedText(value, 4, sign)
  const measured = signalNow(view, chain)
  const gross = grossNow(view)
  const now = heldMakesNow(view, chain)
  const made = now ?? chain.heldReading?.valueOf()
  const lost = 1 - chain.inputSignal.div(chain.sensorSignal.equals(0) ? exact('1') : chain.sensorSignal).valueOf()
  const load = chain.load.valueOf()
  const { word } = readingState(view)
  return {
    load: `on now ${fixedText(load, decimals, sign)} ${point.unit}`,
    sensors: `expect ${signal(chain.sensorSignal.valueOf())} mV/V`,
    wiring: Math.abs(lost) < 5e-7 || chain.sensorSignal.equals(0) ? noLossWords(point) : `leads take ${fixedText(lost * 100, 2, sign)} %`,
    input: measured
      ? `expect ${fixedText(measured.expected, 4, sign)} · ${signedFixedText(measured.value - measured.expected, 4, sign)}`
      : `expect ${signal(chain.inputSignal.valueOf())} mV/V`,
    ...(made === undefined
      ? {}
      : {
          // Of the signal measured now; where there is none, of the expected one.
          scaling: `${now === undefined ? 'would make' : 'makes'} ${fixedText(made, decimals, sign)} · ${signedFixedText(made - load, decimals, sign)}`,
        }),
    reading:
      gross === undefined
        ? `${word} · expect ${fixedText(load, decimals, sign)}`
        : `${word} · expect ${fixedText(load, decimals, sign)} · ${signedFixedText(gross - load, decimals, sign)}`,
  }
}

const noLossWords = ({ wiring, sensors }: Point): string => {
  const left = leadsLeave(wiring, sensors.certificates)
  if (!left.ok) return unstatedLeads(left.failure) ?? 'no loss counted'
  return left.value.known === 'cable-not-stated' ? 'cable not stated' : 'no loss counted'
}
