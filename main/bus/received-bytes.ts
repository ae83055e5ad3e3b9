/** Bytes in the order they came, each with its monotonic time; holds the newest `most` and forgets older ones. */
export class ReceivedBytes {
  readonly #most: number
  #bytes = new Uint8Array(0)
  #times: number[] = []

  constructor(most: number) {
    this.#most = most
  }

  get bytes(): Uint8Array {
    return this.#bytes
  }

  push(bytes: Uint8Array, at: number): void {
    const joined = new Uint8Array(this.#bytes.length + bytes.length)
    joined.set(this.#bytes)
    joined.set(bytes, this.#bytes.length)
    const surplus = Math.max(0, joined.length - this.#most)
    this.#bytes = joined.slice(surplus)
    this.#times = [...this.#times, ...Array.from(bytes, () => at)].slice(surplus)
  }

  /** When the byte at `index` came. */
  timeOf(index: number): number {
    const time = this.#times[index]
    if (time === undefined) throw new RangeError(`no byte ${index} of ${this.#bytes.length}`)
    return time
  }

  drop(count: number): void {
    this.#bytes = this.#bytes.slice(count)
    this.#times = this.#times.slice(count)
  }

  clear(): void {
    this.drop(this.#bytes.length)
  }
}
