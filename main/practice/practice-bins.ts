import type { Indicator, Job, Point } from '../../app/job/schema.ts'
import { certificate, practiceJob, weighing } from './practice-job.ts'

const perUnit = 4
const binUnit = /^ind-bins-\d+$/
export const mostPracticePoints = 100

/** The demo job with so many points: its first ones, or all of them and bins besides. */
export function practiceJobOf(points: number): Job {
  const job = practiceJob()
  if (points <= job.points.length) return withOnly(job, job.points.slice(0, points))
  const bins = Array.from({ length: points - job.points.length }, (_, i) => bin(i))
  const units = Array.from({ length: Math.ceil(bins.length / perUnit) }, (_, i): Indicator => {
    const name = `Bin unit ${i + 1}`
    return { id: `ind-bins-${i + 1}`, name, busId: 'bus-3', unit: i + 1, profileId: 'two-pairs-four-channels' }
  })
  return {
    ...job,
    id: `practice-feed-mill-${points}`,
    buses: [
      ...job.buses,
      { id: 'bus-3', name: 'Practice network, bins', link: { kind: 'practice', bus: 'line-3', framing: 'modbus-tcp' } },
    ],
    indicators: [...job.indicators, ...units],
    points: [...job.points, ...bins],
  }
}

/** Units of bins that the bench needs for this job. */
export const binUnitsIn = (job: Job): number => job.indicators.filter((i) => binUnit.test(i.id)).length

function withOnly(job: Job, points: Point[]): Job {
  const indicators = job.indicators.filter((i) => points.some((p) => p.indicatorId === i.id))
  return { ...job, indicators, buses: job.buses.filter((b) => indicators.some((i) => i.busId === b.id)), points }
}

const bin = (index: number): Point =>
  weighing({
    id: `wt-${401 + index}`,
    tag: `WT-${401 + index}`,
    name: `Bin ${index + 1}`,
    indicatorId: `ind-bins-${Math.floor(index / perUnit) + 1}`,
    channel: (index % perUnit) + 1,
    maximumLoad: '2000',
    scaleInterval: '0.5',
    deadLoad: '200',
    certificates: [0, 1, 2].map((cell) =>
      certificate({
        serial: String(60_000 + index * 3 + cell),
        capacity: ['1000', 'kg'],
        ratedOutput: (2 + (((index * 7 + cell * 3) % 11) - 5) / 5000).toFixed(4),
      }),
    ),
    tolerance: '1',
  })
