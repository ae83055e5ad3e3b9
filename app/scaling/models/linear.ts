import { type Exact, toDecimal, zero } from '../../quantity/exact.ts'
import type { FitContext, OwnUnits } from '../scaling-model.ts'
import { costOf, type TwoPairs } from '../scaling-values.ts'

const shownDecimals = 6

/** What an indicator shows that reads `gain` x (signal - zero): its line at zero and at maximum load, and what its digits cost. `halfDigit` is its share of the gain. */
export function linearOffer(
  c: FitContext,
  own: OwnUnits,
  held: { gain: Exact; zero: Exact; halfDigit: Exact; values: Record<string, string> },
): TwoPairs {
  const cost = (readingUnits: Exact) => costOf(c.line, own.perPointUnit, readingUnits)
  const span = own.slope.mul(own.maximum)
  return {
    lower: { signal: toDecimal(own.zeroSignal, shownDecimals), reading: toDecimal(zero, c.reading.decimals) },
    upper: { signal: toDecimal(own.zeroSignal.add(span), shownDecimals), reading: toDecimal(own.maximum, c.reading.decimals) },
    signalUnit: own.signalUnit,
    readingUnit: c.reading.unit,
    values: held.values,
    rounding: {
      atMaximum: cost(held.gain.mul(span).sub(own.maximum)),
      atMost: cost(own.maximum.mul(held.halfDigit)),
      zeroShift: cost(held.gain.mul(own.zeroSignal.sub(held.zero))),
    },
  }
}
