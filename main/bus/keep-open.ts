import { fail, ok, type Result } from '../../app/result.ts'
import type { BusClock } from './bus-clock.ts'
import { type LinkEvent, type LinkLife, newLink, nextLife, retryAfterMs } from './link-life.ts'
import type { LinkState } from './request.ts'

/** Something that is opened, may be lost, and is closed. */
export type Closable = { onClose(listener: (why: string) => void): void; close(): Promise<void> }

export type Kept<T> = {
  readonly state: LinkState
  /** What is open now, and nothing while it is down. */
  readonly current: T | undefined
  onState(listener: (state: LinkState) => void): () => void
  close(): Promise<void>
}

/** Opens once and says why where that fails; from then on opens again by itself whenever it is lost. `attach` sees each new one. */
export async function keepOpen<T extends Closable>(
  open: () => Promise<Result<T, string>>,
  clock: BusClock,
  attach: (opened: T) => void,
): Promise<Result<Kept<T>, string>> {
  const keeper = new Keeper(open, clock, attach)
  await keeper.open()
  if (keeper.life.kind === 'open') return ok(keeper)
  const why = keeper.life.kind === 'down' ? keeper.life.why : 'it was closed while opening'
  await keeper.close()
  return fail(why)
}

class Keeper<T extends Closable> implements Kept<T> {
  life: LinkLife = newLink
  current: T | undefined
  readonly #open: () => Promise<Result<T, string>>
  readonly #clock: BusClock
  readonly #attach: (opened: T) => void
  readonly #listeners = new Set<(state: LinkState) => void>()
  #cancelRetry = () => {}
  #why = ''

  constructor(open: () => Promise<Result<T, string>>, clock: BusClock, attach: (opened: T) => void) {
    this.#open = open
    this.#clock = clock
    this.#attach = attach
  }

  get state(): LinkState {
    if (this.life.kind === 'open' || this.life.kind === 'closed') return { kind: this.life.kind }
    return { kind: 'down', why: this.#why }
  }

  onState(listener: (state: LinkState) => void): () => void {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  async open(): Promise<void> {
    const opened = await this.#open()
    if (this.life.kind === 'closed') {
      if (opened.ok) await opened.value.close()
      return
    }
    if (!opened.ok) return this.#on({ kind: 'open-failed', why: opened.failure })
    this.current = opened.value
    const openSince = this.#clock.now()
    this.#attach(opened.value)
    opened.value.onClose((why) => {
      if (this.current !== opened.value) return
      this.#on({ kind: 'lost', why, heldMs: this.#clock.now() - openSince })
      // What is left of it would keep the port locked against the next opening.
      void opened.value.close()
    })
    this.#on({ kind: 'opened' })
  }

  async close(): Promise<void> {
    this.#cancelRetry()
    const last = this.current
    this.#on({ kind: 'close' })
    await last?.close()
  }

  #on(event: LinkEvent): void {
    const before = this.life
    this.life = nextLife(before, event)
    if (this.life === before) return
    if (this.life.kind !== 'open') this.current = undefined
    if (this.life.kind === 'down') {
      this.#why = this.life.why
      this.#cancelRetry = this.#clock.after(retryAfterMs(this.life.tries), () => {
        this.#on({ kind: 'retry-due' })
        void this.open()
      })
    }
    for (const listener of [...this.#listeners]) listener(this.state)
  }
}
