export type SampleSeries = { at: Float64Array; value: Float64Array }
export type SampleQuantity = 'reading' | 'signal'
type Column = 'at' | SampleQuantity

/** Room for the first samples; doubled as more come, so that thirty points at rest cost little. */
const firstRoom = 2_048

/** Live samples of one point, oldest dropped first. `at` in monotonic milliseconds, rising; NaN where there was no number. */
export class SampleRing {
  readonly capacity: number
  #columns: Record<Column, Float64Array>
  #next = 0
  #held = 0

  constructor(capacity: number) {
    this.capacity = capacity
    this.#columns = emptyColumns(Math.min(firstRoom, capacity))
  }

  get length(): number {
    return this.#held
  }

  /** Times of the newest and the oldest sample; NaN before the first. */
  get newest(): number {
    return this.#held === 0 ? Number.NaN : this.#at(this.#held - 1)
  }
  get oldest(): number {
    return this.#held === 0 ? Number.NaN : this.#at(0)
  }

  push(at: number, reading: number, signal: number): void {
    if (this.#held === this.#room && this.#room < this.capacity) this.#grow()
    this.#columns.at[this.#next] = at
    this.#columns.reading[this.#next] = reading
    this.#columns.signal[this.#next] = signal
    this.#next = (this.#next + 1) % this.#room
    this.#held = Math.min(this.#held + 1, this.#room)
  }

  clear(): void {
    this.#next = 0
    this.#held = 0
  }

  /** What lies between two times, both included, oldest first: one or two pieces of the ring itself, not copied. Good until the next push. */
  between(from: number, to: number, quantity: SampleQuantity): SampleSeries[] {
    const first = this.#before(from)
    const end = this.#before(to, true)
    if (end <= first) return []
    const start = this.#slot(first)
    const stop = start + (end - first)
    const piece = (a: number, b: number): SampleSeries => ({
      at: this.#columns.at.subarray(a, b),
      value: this.#columns[quantity].subarray(a, b),
    })
    return stop <= this.#room ? [piece(start, stop)] : [piece(start, this.#room), piece(0, stop - this.#room)]
  }

  /** Every sample held, oldest first, copied. */
  all(): { at: number; reading: number; signal: number }[] {
    const { at, reading, signal } = this.#columns
    return Array.from({ length: this.#held }, (_, index) => {
      const slot = this.#slot(index)
      return { at: at[slot] ?? Number.NaN, reading: reading[slot] ?? Number.NaN, signal: signal[slot] ?? Number.NaN }
    })
  }

  /** The sample nearest in time. */
  nearest(at: number, quantity: SampleQuantity): { at: number; value: number } | undefined {
    if (this.#held === 0) return undefined
    const after = Math.min(this.#before(at), this.#held - 1)
    const before = Math.max(0, after - 1)
    const index = Math.abs(this.#at(before) - at) <= Math.abs(this.#at(after) - at) ? before : after
    return { at: this.#at(index), value: this.#columns[quantity][this.#slot(index)] ?? Number.NaN }
  }

  get #room(): number {
    return this.#columns.at.length
  }
  #slot(index: number): number {
    return (this.#next - this.#held + index + this.#room) % this.#room
  }
  #at(index: number): number {
    return this.#columns.at[this.#slot(index)] ?? Number.NaN
  }

  /** How many samples lie before this time, or, with `included`, not after it. */
  #before(at: number, included = false): number {
    let [low, high] = [0, this.#held]
    while (low < high) {
      const middle = (low + high) >> 1
      const here = this.#at(middle)
      if (here < at || (included && here === at)) low = middle + 1
      else high = middle
    }
    return low
  }

  #grow(): void {
    const larger = emptyColumns(Math.min(this.#room * 2, this.capacity))
    for (const name of ['at', 'reading', 'signal'] as const) {
      const old = this.#columns[name]
      larger[name].set(old.subarray(this.#next), 0)
      larger[name].set(old.subarray(0, this.#next), old.length - this.#next)
    }
    this.#next = this.#held
    this.#columns = larger
  }
}

const emptyColumns = (room: number): Record<Column, Float64Array> => ({
  at: new Float64Array(room),
  reading: new Float64Array(room),
  signal: new Float64Array(room),
})
