import type { Job } from '../../app/job/schema.ts'
import { practiceJob } from '../../main/practice/practice-job.ts'

/**
 * The practice job without hopper B: its indicator is still on the bench at address 5 of the line, but nobody has described it.
 * It holds two pairs as int32 with the low word first; the reading stands at 100, the pairs from 40 on, and gaps cannot be read.
 */
export function jobWithoutHopperB(): Job {
  const job = practiceJob()
  return {
    ...job,
    indicators: job.indicators.filter((i) => i.id !== 'ind-2'),
    points: job.points.filter((p) => p.indicatorId !== 'ind-2'),
  }
}

export const hopperB = { busId: 'bus-1', unit: 5 } as const
