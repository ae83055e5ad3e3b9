/** The life of one link. Unplugging, a failed reopening and plugging in again are ordinary events. */
export type LinkLife =
  | { kind: 'opening'; tries: number }
  /** `tries` is how often opening had failed before. */
  | { kind: 'open'; tries: number }
  /** Waits before it is opened again; `tries` is how often that failed, or did not last, since it was open for good. */
  | { kind: 'down'; why: string; tries: number }
  | { kind: 'closed' }

export type LinkEvent =
  | { kind: 'opened' }
  | { kind: 'open-failed'; why: string }
  /** `heldMs`: how long it had been open. */
  | { kind: 'lost'; why: string; heldMs: number }
  | { kind: 'retry-due' }
  | { kind: 'close' }

/**
 * Lost sooner than this, in ms, it counts as not opened: a gateway whose sockets are all taken accepts and hangs up at once.
 * Common practice, no source.
 */
const lastingMs = 2_000

export const newLink: LinkLife = { kind: 'opening', tries: 0 }

/** Events that do not fit a state leave it as it is: a late `opened` of a closed link must not bring it back. */
export function nextLife(state: LinkLife, event: LinkEvent): LinkLife {
  if (state.kind === 'closed') return state
  switch (event.kind) {
    case 'close':
      return { kind: 'closed' }
    case 'opened':
      return state.kind === 'opening' ? { kind: 'open', tries: state.tries } : state
    case 'open-failed':
      return state.kind === 'opening' ? { kind: 'down', why: event.why, tries: state.tries + 1 } : state
    case 'lost':
      return state.kind === 'open' ? { kind: 'down', why: event.why, tries: event.heldMs < lastingMs ? state.tries + 1 : 0 } : state
    case 'retry-due':
      return state.kind === 'down' ? { kind: 'opening', tries: state.tries } : state
  }
}

/** Wait in ms before the next opening: soon at first, then every 5 s, so that a busy port is not hammered. */
export const retryAfterMs = (tries: number): number => Math.min(5000, 500 * 2 ** Math.min(tries, 4))
