import type { Job } from '../../../app/job/schema.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { binUnitsIn, practiceJobOf } from '../../../main/practice/practice-bins.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { type BenchBus, type BenchIndicator, practiceBuses } from '../../../simulator/index.ts'

type Setup = { job: Job; buses: BenchBus[] }

/** Noise that fills some pixels, so that there is something to thin. */
const noiseMicrovolt = 60
const channels = 4

/** So many bins on a network, each with another load on it, on units that answer at once. */
function binsAlone(points: number): Setup {
  const whole = practiceJobOf(practiceJob().points.length + points)
  const bins = whole.points.slice(-points)
  const indicators = whole.indicators.filter((i) => bins.some((p) => p.indicatorId === i.id))
  const loaded = (indicator: BenchIndicator, unit: number): BenchIndicator => ({
    ...indicator,
    answerDelayMs: 0,
    points: indicator.points.map((point, i) => ({ ...point, deadLoad: 150 + 200 * (unit * channels + i), noiseMicrovolt })),
  })
  return {
    job: { ...whole, points: bins, indicators, buses: whole.buses.filter((b) => indicators.some((i) => i.busId === b.id)) },
    buses: benchFor(whole).flatMap((bus) => {
      const own = bus.indicators.filter(({ key }) => indicators.some((i) => i.id === key))
      return own.length === 0 ? [] : [{ ...bus, indicators: own.map(loaded) }]
    }),
  }
}

/** The demo job with so many points, all kinds of units among them. */
function practicePoints(points: number): Setup {
  const job = practiceJobOf(points)
  return { job, buses: benchFor(job) }
}

const benchFor = (job: Job): BenchBus[] => practiceBuses(bundledProfiles, 'rtu-over-tcp', binUnitsIn(job))

/** By name, since job and bench live in different processes. */
export const setups = { bins: binsAlone, practice: practicePoints }
export type SetupName = keyof typeof setups
