import { keptState } from '../../state/kept-state.ts'
import { sharedState } from '../../state/shared-state.ts'
import type { Cursors } from './cursors.tsx'
import { type TrendQuantity, trendQuantities } from './traces.ts'
import { spans } from './trend-view.ts'

/** How somebody wants trends drawn. Without a quantity, what suits the curves. */
export type TrendChoice = { quantity: TrendQuantity | null; own: boolean; span: number }

const initial: TrendChoice = { quantity: null, own: false, span: 600_000 }

function read(found: unknown): TrendChoice | undefined {
  if (typeof found !== 'object' || found === null) return undefined
  const { quantity, own, span } = found as Partial<Record<keyof TrendChoice, unknown>>
  return {
    quantity: trendQuantities.find((q) => q === quantity) ?? initial.quantity,
    own: own === true,
    span: spans.find((s) => s === span) ?? initial.span,
  }
}

/** Whatever chart is opened next is drawn as the last of its kind was. */
export const trendChoice = {
  one: keptState<TrendChoice>('trend-of-one', initial, read),
  several: keptState<TrendChoice>('trend-of-several', initial, read),
}

/** Two moments compared on every chart, until they are taken away. */
export const trendCursors = sharedState<Cursors | null>(null)
