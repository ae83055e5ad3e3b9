/** What part of time a trend shows, in monotonic milliseconds. Following, it ends now; held, it stands still. */
export type TrendView = { /** Longest time shown while following. */ span: number; held: Span | null }
export type Span = { from: number; to: number }

const minute = 60_000
export const spans = [minute, 2 * minute, 5 * minute, 10 * minute, 30 * minute, 60 * minute] as const
/** Closer than this there is nothing more to see: a few samples. */
export const shortestSpan = 500

export const following = (span: number): TrendView => ({ span, held: null })

/** While there is little to show, a shorter window: one, two, five minutes. */
export function windowFor(heldMs: number, longestMs: number): number {
  if (longestMs < minute) return longestMs
  return spans.find((w) => w >= heldMs && w <= longestMs) ?? longestMs
}

/** "last 10 minutes", for the heading of a trend; while there is less than was asked for, no number that nobody chose. */
export function windowText(shownMs: number, longestMs: number): string {
  if (shownMs < longestMs - shortestSpan) return 'all there is so far'
  return shownMs <= minute ? 'last minute' : `last ${Math.round(shownMs / minute)} minutes`
}

/** The shown time made shorter (factor below 1) or longer about a moment of it, never beyond what is held in memory. */
export function zoomed(shown: Span, factor: number, about: number, known: Span): Span {
  const width = Math.min(Math.max((shown.to - shown.from) * factor, shortestSpan), Math.max(known.to - known.from, shortestSpan))
  const share = (about - shown.from) / (shown.to - shown.from)
  return within({ from: about - share * width, to: about + (1 - share) * width }, known)
}

/** The shown time moved by a share of its width, earlier where negative. */
export const panned = (shown: Span, share: number, known: Span): Span => {
  const step = share * (shown.to - shown.from)
  return within({ from: shown.from + step, to: shown.to + step }, known)
}

/** Moved, at its width, to where something is known. */
export function within(wanted: Span, known: Span): Span {
  const width = wanted.to - wanted.from
  const from = Math.max(Math.min(wanted.from, known.to - width), Math.min(known.from, known.to - width))
  return { from, to: from + width }
}

const steps = [100, 200, 500, 1_000, 2_000, 5_000, 10_000, 15_000, 30_000, minute, 2 * minute, 5 * minute, 10 * minute]

/** Round moments of the day between two times, `most` at most. `anchor` is the UTC instant of monotonic zero, in milliseconds. */
export function timeTicks({ from, to }: Span, anchor: number, most: number): number[] {
  const step = steps.find((s) => (to - from) / s <= most) ?? 15 * minute
  const ticks = []
  for (let at = Math.ceil((anchor + from) / step) * step; at <= anchor + to; at += step) ticks.push(at - anchor)
  return ticks
}
