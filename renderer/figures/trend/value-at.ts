import type { DecimalSign } from '../../../app/quantity/format.ts'
import type { Store } from '../../state/store.ts'
import { fixedText } from '../number-text.ts'
import type { Trace } from './trace.ts'
import { leastIntervals } from './traces.ts'
import type { Span } from './trend-view.ts'

/** Further from any sample than this there is nothing to read. */
const nearMs = 1_000

/** What a curve holds nearest to a moment, in the unit of the trace; undefined where nothing was measured near it. */
export function valueNear(store: Store, trace: Trace, at: number): number | undefined {
  const sample = store.ring(trace.pointId).nearest(at, trace.quantity)
  if (!sample || Math.abs(sample.at - at) > nearMs || Number.isNaN(sample.value)) return undefined
  return sample.value * (trace.factor ?? 1)
}

/** Least and greatest that a curve holds within a span, both the nearest where none lies in it; undefined where nothing was measured near it. */
export function valuesIn(store: Store, trace: Trace, { from, to }: Span): { least: number; greatest: number } | undefined {
  let [least, greatest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
  let any = false
  for (const { value } of store.ring(trace.pointId).between(from, to, trace.quantity))
    for (const held of value) {
      any = true
      if (held < least) least = held
      if (held > greatest) greatest = held
    }
  if (!any) {
    const near = valueNear(store, trace, (from + to) / 2)
    return near === undefined ? undefined : { least: near, greatest: near }
  }
  const factor = trace.factor ?? 1
  return least <= greatest ? { least: least * factor, greatest: greatest * factor } : undefined
}

/** As many decimals as a scale interval has. */
export const decimalsFor = ({ leastSpan = leastIntervals }: Trace) => Math.max(0, Math.ceil(-Math.log10(leastSpan / leastIntervals) - 1e-9))

/** "399.8 kg", or "2.4 to 399.8 kg" where the curve goes through more than the last digit tells apart. */
export function valuesText(trace: Trace, values: { least: number; greatest: number }, sign: DecimalSign): string {
  const [least, greatest] = [values.least, values.greatest].map((v) => fixedText(v, decimalsFor(trace), sign))
  return `${least === greatest ? least : `${least} to ${greatest}`} ${trace.unit ?? ''}`.trimEnd()
}
