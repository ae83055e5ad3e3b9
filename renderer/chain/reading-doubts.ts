import { isImpossible, unscaledInBrief } from '../../app/scaling/scaling-failure.ts'
import type { Doubt } from '../parts/in-doubt.tsx'
import { scalingInDoubt } from '../parts/scaling-in-doubt.tsx'
import type { PointView } from '../state/point-view.ts'
import { certificateLine } from './certificate-line.ts'
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
    ...(scalingDoubt(view) ? [scalingInDoubt] : impossibleBehind(view)),
  ]
}

/** With something impossible stated nothing tells whether the scaling held is right, which is no reason to believe it. */
function impossibleBehind({ point, state }: PointView): Doubt[] {
  const line = certificateLine(point)
  if (!state?.held || line.ok || !isImpossible(line.failure)) return []
  return [{ said: 'scaling not judged', why: `scaling not judged: ${unscaledInBrief(line.failure)}` }]
}
