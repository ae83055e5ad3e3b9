import { existsSync, mkdirSync } from 'node:fs'
import { dirname } from 'node:path'
import type { Bus, Job, RealLink } from '../../app/job/schema.ts'
import { bundledProfiles } from '../../app/profiles/bundled.ts'
import { ok, type Result } from '../../app/result.ts'
import { type Bench, practiceBuses, startBench } from '../../simulator/index.ts'
import { createJob, type JobProblem } from '../files/job-store.ts'
import type { BenchDoor } from '../host/world.ts'
import { binUnitsIn } from './practice-bins.ts'
import { practiceJob } from './practice-job.ts'

export type PracticeBench = { bench: Bench; door: BenchDoor; resolve(bus: Bus): RealLink; serialNote: string | null }

/** Starts the simulated indicators; on a pseudo-terminal where this system has one, else on loopback sockets. */
export async function startPracticeBench(job: Job, seed = 20_260): Promise<PracticeBench> {
  let bench: Bench
  let serialNote: string | null = null
  try {
    bench = await startBench({ buses: practiceBuses(bundledProfiles, 'pty', binUnitsIn(job)), seed })
  } catch (cause) {
    serialNote = `No pseudo-terminal here (${cause instanceof Error ? cause.message : String(cause)}): the practice line runs over a loopback socket instead.`
    bench = await startBench({ buses: practiceBuses(bundledProfiles, 'rtu-over-tcp', binUnitsIn(job)), seed })
  }
  return {
    bench,
    serialNote,
    door: { setLoad: (indicatorId, channel, load) => bench.setLoad(indicatorId, channel, load), close: () => bench.close() },
    resolve: (bus) => practiceLink((key) => bench.addressOf(key), bus),
  }
}

/** Where a bus of the bench can be opened now; any other bus is what it says. */
export function practiceLink(addressOf: Bench['addressOf'], { link }: Bus): RealLink {
  if (link.kind !== 'practice') return link
  const format = { baud: 19_200, parity: 'even', stopBits: 1 } as const
  const address = addressOf(link.bus)
  if ('path' in address) return { kind: 'serial', path: address.path, format }
  return link.framing === 'rtu' ? { kind: 'rtu-over-tcp', ...address, format } : { kind: 'modbus-tcp', ...address }
}

/** Makes the demo job at `path` where there is none yet; an existing one is carried on. */
export function ensurePracticeJob(path: string, fresh: () => Job = practiceJob): Result<null, JobProblem> {
  if (existsSync(path)) return ok(null)
  mkdirSync(dirname(path), { recursive: true })
  return createJob(path, fresh())
}
