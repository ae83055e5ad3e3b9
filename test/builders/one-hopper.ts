import type { Job } from '../../app/job/schema.ts'
import { bundledProfiles } from '../../app/profiles/bundled.ts'
import { practiceJob } from '../../main/practice/practice-job.ts'
import { type BenchBus, practiceBuses } from '../../simulator/index.ts'

/** The practice scenario cut down to its first hopper: one bus, one indicator, one point. */
export function oneHopperJob(): Job {
  const job = practiceJob()
  return { ...job, buses: job.buses.slice(0, 1), indicators: job.indicators.slice(0, 1), points: job.points.slice(0, 1) }
}

export const oneHopperBuses = (link: BenchBus['link']): BenchBus[] =>
  practiceBuses(bundledProfiles, 'rtu-over-tcp')
    .slice(0, 1)
    .map((bus) => ({ ...bus, link, indicators: bus.indicators.slice(0, 1) }))
