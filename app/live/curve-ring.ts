import type { CurveSample } from '../contract/sample-batch.ts'
import { SampleRing } from './sample-ring.ts'

/** Live samples of one point, all in the unit that its reading is in now: once the indicator shows another, what came before belongs on no curve with it. */
export class CurveRing extends SampleRing {
  #unit = ''

  get unit(): string {
    return this.#unit
  }

  /** Takes a sample newer than all others; one that is told again is there already. */
  take({ unit, at, reading, signal }: CurveSample): void {
    if (this.length > 0 && at <= this.newest) return
    if (unit !== '' && unit !== this.#unit) {
      if (this.#unit !== '') this.clear()
      this.#unit = unit
    }
    this.push(at, reading, signal)
  }

  override clear(): void {
    super.clear()
    this.#unit = ''
  }
}
