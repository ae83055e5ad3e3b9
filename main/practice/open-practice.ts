import { existsSync, mkdirSync } from 'node:fs'
import { dirname } from 'node:path'
import type { Bus, Job, RealLink } from '../../app/job/schema.ts'
import type { SerialFormat } from '../../app/profile/schema.ts'
import { bundledProfiles } from '../../app/profiles/bundled.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { type Bench, practiceBuses, startBench } from '../../simulator/index.ts'
import { createJob, type JobProblem } from '../files/job-store.ts'
import { practiceFormat } from '../host/line-format.ts'
import type { BenchDoor } from '../host/world.ts'
import { binUnitsIn } from './practice-bins.ts'
import { practiceJob } from './practice-job.ts'

export type PracticeBench = {
  bench: Bench
  door: BenchDoor
  resolve(bus: Bus, format?: SerialFormat): Result<RealLink, string>
  serialNote: string | null
}

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
    door: bench,
    resolve(bus, asked) {
      const { link } = bus
      const there = bench.buses().map((b) => b.key)
      if (link.kind === 'practice' && !there.includes(link.bus))
        return fail(`the practice bench has no bus "${link.bus}", only ${there.join(' and ')}; choose one of these for ${bus.name}`)
      const format = asked ?? (bus.link.kind === 'practice' ? bus.link.format : undefined)
      setMasterFormat(bench, bus, format)
      return ok(practiceLink((key) => bench.addressOf(key), bus, format))
    },
  }
}

/** A pseudo-terminal or socket carries bytes in any format: the bench is told in which one they are meant. */
export function setMasterFormat(bench: Pick<Bench, 'line' | 'setLine'>, { link }: Bus, format: SerialFormat | undefined): void {
  if (link.kind !== 'practice' || link.framing !== 'rtu') return
  const { masterFormat: _, ...line } = bench.line(link.bus)
  bench.setLine(link.bus, format ? { ...line, masterFormat: format } : line)
}

/** Where a bus of the bench can be opened now; any other bus is what it says. */
export function practiceLink(addressOf: Bench['addressOf'], { link }: Bus, format = practiceFormat): RealLink {
  if (link.kind !== 'practice') return link
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
