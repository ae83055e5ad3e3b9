import { appliedWords } from '../applied-words.ts'
import type { Point } from '../job/schema.ts'
import { type Exact, exact, toSignificant } from '../quantity/exact.ts'
import { units } from '../quantity/units.ts'
import { sentence } from '../sentence.ts'
import type { ExactLine } from './certificate-scaling.ts'

/** What the sensors carry at maximum load, dead load with it, in percent of their capacity. */
export const usedPercent = ({ maximumLoad, deadLoad, capacityLoad }: ExactLine): Exact =>
  maximumLoad.add(deadLoad).div(capacityLoad).mul(exact('100'))

/** Whether the sensors are too small for the maximum load of the point: how much of their capacity it is, and a sentence. */
export function beyondCapacity(point: Point, line: ExactLine): { percent: string; why: string } | undefined {
  const used = usedPercent(line)
  if (used.lte(exact('100'))) return undefined
  const words = appliedWords(point)
  const standing = words.quantity === 'pressure' ? 'head of fluid' : 'dead load'
  const percent = toSignificant(used, 3)
  return {
    percent,
    why: `${sentence(words.maximum)} and ${standing} are ${percent} % of the sensors' capacity (${toSignificant(line.capacityLoad, 5)} ${units[point.unit].symbol} at this point). The sensors are too small for it.`,
  }
}
