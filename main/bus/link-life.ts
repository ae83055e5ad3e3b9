/** The life of one link. Unplugging, a failed reopening and plugging in again are ordinary events. */
export type LinkLife =
  | { kind: 'opening'; tries: number }
  | { kind: 'open' }
  /** Waits before it is opened again; `tries` is how often that failed since it was last open. */
  | { kind: 'down'; why: string; tries: number }
  | { kind: 'closed' }

export type LinkEvent =
  | { kind: 'opened' }
  | { kind: 'open-failed'; why: string }
  | { kind: 'lost'; why: string }
  | { kind: 'retry-due' }
  | { kind: 'close' }

export const newLink: LinkLife = { kind: 'opening', tries: 0 }

/** Events that do not fit a state leave it as it is: a late `opened` of a closed link must not bring it back. */
export function nextLife(state: LinkLife, event: LinkEvent): LinkLife {
  if (state.kind === 'closed') return state
  switch (event.kind) {
    case 'close':
      return { kind: 'closed' }
    case 'opened':
      return state.kind === 'opening' ? { kind: 'open' } : state
    case 'open-failed':
      return state.kind === 'opening' ? { kind: 'down', why: event.why, tries: state.tries + 1 } : state
    case 'lost':
      return state.kind === 'open' ? { kind: 'down', why: event.why, tries: 0 } : state
    case 'retry-due':
      return state.kind === 'down' ? { kind: 'opening', tries: state.tries } : state
  }
}

/** Wait in ms before the next opening: soon at first, then every 5 s, so that a busy port is not hammered. */
export const retryAfterMs = (tries: number): number => Math.min(5000, 500 * 2 ** Math.min(tries, 4))
