import type { Doubt } from '../parts/in-doubt.tsx'
import { scalingInDoubt } from '../parts/scaling-in-doubt.tsx'
import type { PointView } from '../state/point-view.ts'
import { clippedWords, inputClipped } from './input-room.ts'
import { readingOff } from './reading-off.ts'
import { scalingDoubt } from './scaling-doubt.ts'

/** What makes the live reading one that must not be believed, nearest to it first. Marked wherever the reading is shown. */
export function readingDoubts(view: PointView): Doubt[] {
  const off = readingOff(view)
  const input = `input ${clippedWords.said}`
  return [
    ...(inputClipped(view) ? [{ said: input, why: `${input}: ${clippedWords.why}` }] : []),
    ...(off ? [{ said: off.brief, why: `the reading is outside its tolerance: ${off.error}, ${off.tolerance}` }] : []),
    ...(scalingDoubt(view) ? [scalingInDoubt] : []),
  ]
}
