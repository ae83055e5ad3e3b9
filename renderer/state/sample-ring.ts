export type SampleSeries = { at: Float64Array; value: Float64Array }
export type SampleQuantity = 'reading' | 'signal'

/** Live samples of one point, oldest dropped first. `at` in monotonic milliseconds; NaN where there was no number. */
export class SampleRing {
  readonly capacity: number
  #at: Float64Array
  #reading: Float64Array
  #signal: Float64Array
  #next = 0
  #held = 0

  constructor(capacity: number) {
    this.capacity = capacity
    this.#at = new Float64Array(capacity)
    this.#reading = new Float64Array(capacity)
    this.#signal = new Float64Array(capacity)
  }

  get length(): number {
    return this.#held
  }

  /** Time of the newest sample; NaN before the first. */
  get newest(): number {
    return this.#held === 0 ? Number.NaN : (this.#at[(this.#next + this.capacity - 1) % this.capacity] ?? Number.NaN)
  }

  push(at: number, reading: number, signal: number): void {
    this.#at[this.#next] = at
    this.#reading[this.#next] = reading
    this.#signal[this.#next] = signal
    this.#next = (this.#next + 1) % this.capacity
    this.#held = Math.min(this.#held + 1, this.capacity)
  }

  clear(): void {
    this.#next = 0
    this.#held = 0
  }

  /** Copies what is not older than `from`, oldest first. */
  since(from: number, quantity: SampleQuantity): SampleSeries {
    const source = quantity === 'reading' ? this.#reading : this.#signal
    const oldest = (this.#next - this.#held + this.capacity) % this.capacity
    let first = 0
    while (first < this.#held && (this.#at[(oldest + first) % this.capacity] ?? 0) < from) first += 1
    const count = this.#held - first
    const at = new Float64Array(count)
    const value = new Float64Array(count)
    for (let i = 0; i < count; i += 1) {
      const from = (oldest + first + i) % this.capacity
      at[i] = this.#at[from] ?? Number.NaN
      value[i] = source[from] ?? Number.NaN
    }
    return { at, value }
  }
}
