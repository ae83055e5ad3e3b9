import { appliedWords } from '../../app/applied-words.ts'
import { type Exact, exact } from '../../app/quantity/exact.ts'
import { units } from '../../app/quantity/units.ts'
import { overloadBy } from '../../app/scaling/safe-load.ts'
import { sentence } from '../../app/sentence.ts'
import { decimalsOf, fixedText } from '../figures/number-text.ts'
import type { PointView } from '../state/point-view.ts'
import { certificateLine } from './certificate-line.ts'
import { grossExact } from './gross-now.ts'

export type OverloadNow = { tone: 'attention' | 'lost' /** For chain and list. */; said: string /** For the places. */; why: string }

/** That more is on a point than its sensors stand by their certificates, as it is read now or as somebody said; undefined where it is not. */
export function overloadNow(view: PointView): OverloadNow | undefined {
  const { point, job, applied } = view
  const line = certificateLine(point)
  if (!line.ok) return undefined
  const given: [load: Exact | undefined, verb: string][] = [
    [grossExact(view), 'read'],
    [applied && exact(applied.load), 'said to be on'],
  ]
  for (const [load, how] of given) {
    const over = load && overloadBy(point, line.value.line, load)
    if (!over) continue
    const symbol = units[point.unit].symbol
    const inLoad = (value: Exact) => `${fixedText(value.valueOf(), decimalsOf(point.scaleInterval), job.decimalSign)} ${symbol}`
    const { quantity, excess, relieve } = appliedWords(point)
    return over.beyond === 'safe load'
      ? {
          tone: 'lost',
          said: `${excess}, ${inLoad(load)}`,
          why: `${sentence(excess)}: ${inLoad(load)} ${how}, more than the safe ${quantity} of ${inLoad(over.most)} at this point. ${relieve}; then look whether zero has moved.`,
        }
      : {
          tone: 'attention',
          said: `beyond capacity, ${inLoad(load)}`,
          why: `${inLoad(load)} ${how}, beyond the sensors’ capacity of ${inLoad(over.most)} at this point. Whether it is an ${excess} is not known: safe ${excess} is not stated.`,
        }
  }
  return undefined
}
